import type { shared } from './en';
import type { Format } from './format';
import { section } from './section';

export type { Format, Measured } from './format';
export { choose, chosenLanguage, fetchTexts, spoken, type Section } from './section';

/** t holds the texts that every face says, in the reader's language. Set before a page is drawn. */
export let t: typeof shared;

/** f writes numbers, times and plurals in the same language. */
export let f: Format;

section('shared', (language) => {
  t = language.shared;
  f = language.format;
  document.documentElement.lang = f.language;
});

/**
 * said is the text for a code. A code that a newer server sends and this page does
 * not know is shown as words.
 */
export function said(texts: Record<string, string>, code: string): string {
  return texts[code] ?? code.replaceAll('-', ' ');
}
