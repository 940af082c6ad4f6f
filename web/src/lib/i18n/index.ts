import { en } from './en';
import type { Format } from './format';

export type { Format, Measured } from './format';

/** Catalogue is every text of every page in one language. */
export type Catalogue = typeof en;

/**
 * The languages. To add one: write a folder beside en/ whose index exports a
 * Catalogue, and name it here; no page changes.
 */
const catalogues: Record<string, () => Promise<Catalogue>> = {
  en: () => Promise.resolve(en),
};

/** t holds the texts in the reader's language: t.screen.title. Set before a page is drawn. */
export let t: Catalogue = en;

/** f writes numbers, times and plurals in the same language. */
export let f: Format = en.format;

/** speak chooses the first wanted language that is there, else English. */
export async function speak(wanted: readonly string[]): Promise<void> {
  const code = wanted.map((tag) => tag.split('-')[0]!.toLowerCase()).find((tag) => tag in catalogues) ?? 'en';
  t = await catalogues[code]!();
  f = t.format;
  document.documentElement.lang = f.language;
}

/**
 * said is the text for a code. A code that a newer server sends and this page does
 * not know is shown as words.
 */
export function said(texts: Record<string, string>, code: string): string {
  return texts[code] ?? code.replaceAll('-', ' ');
}
