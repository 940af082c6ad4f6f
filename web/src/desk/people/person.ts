import type { Schema } from '$lib/api';
import { f } from '$lib/i18n';
import { clubTexts } from '$lib/i18n/club';

/** PersonDraft is a person as a form holds them: empty where nothing is written. */
export interface PersonDraft {
  name: string;
  display_name: string;
  say_as: string;
  birth_date: string;
  on_screen: boolean;
  in_results: boolean;
  photo: boolean;
}

/** nobody has no agreement ticked: a guardian says yes, the form never does. */
export const nobody = (): PersonDraft => ({
  name: '',
  display_name: '',
  say_as: '',
  birth_date: '',
  on_screen: false,
  in_results: false,
  photo: false,
});

export const draftOf = (p: Schema['Person']): PersonDraft => ({
  name: p.name,
  display_name: p.display_name,
  say_as: p.say_as ?? '',
  birth_date: p.birth_date ?? '',
  on_screen: p.on_screen,
  in_results: p.in_results,
  photo: p.photo,
});

/** bodyOf leaves out what is empty and may be. */
export function bodyOf(draft: PersonDraft): Schema['PersonBody'] {
  const { say_as, birth_date, ...rest } = draft;
  return {
    ...rest,
    name: draft.name.trim(),
    display_name: draft.display_name.trim(),
    ...(say_as.trim() && { say_as: say_as.trim() }),
    ...(birth_date && { birth_date }),
  };
}

/** agreed says in words what a guardian agreed to. */
export function agreed(p: Pick<PersonDraft, 'on_screen' | 'in_results' | 'photo'>): string {
  const c = clubTexts;
  const to = [p.on_screen && c.consentScreen, p.in_results && c.consentResults, p.photo && c.consentPhoto];
  return f.list(to.filter((one) => one !== false)) || c.consentNothing;
}
