import { keep, kept } from './choice';
import { languages, type Language } from './languages';

/** speak changes to another language: the page comes anew, for each text of it is another. */
export function speak(language: Language): void {
  keep(language);
  const here = new URL(location.href);
  // A browser that keeps nothing learns it from the address.
  if (kept() === language) here.searchParams.delete('lang');
  else here.searchParams.set('lang', language);
  history.replaceState(history.state, '', here);
  location.reload();
}

/** offered are the languages that can be chosen, by the name that each has for itself. */
export const offered = (Object.keys(languages) as Language[]).flatMap((tag) => {
  const of = languages[tag];
  return 'name' in of ? [{ tag, name: of.name }] : [];
});
