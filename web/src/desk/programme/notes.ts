import type { Schema } from '$lib/api';
import { f, said, t } from '$lib/i18n';
import { racerText } from '$lib/names';

/** noteSays is a note on a draw as a sentence. */
export function noteSays(note: Schema['DrawNote']): string {
  const p = t.desk.programme;
  const who = f.list(note.racers.map(racerText));
  return p.notes[note.code]?.(who, note.round ?? 0, note.group ?? '') ?? p.noteOther(said({}, note.code), who);
}
