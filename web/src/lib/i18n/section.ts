import { folderOf, type Language } from './languages';
import { everywhere, type Section, type Sources, type TextsOf } from './sources';

export type { Section } from './sources';

const sources: Sources = { ...everywhere };

/** add takes up sections of one face. */
export function add(more: Sources): void {
  Object.assign(sources, more);
}

/** textsOf fetches the texts of a section in a language. */
async function textsOf(name: Section, language: Language): Promise<object> {
  const folder = folderOf(language);
  return folder ? (await folder()).texts[name]() : (sources[name]?.() ?? { [name]: {} });
}

/** Loading is a section that something which was imported needs, until its texts are there. */
class Loading {
  #coming: Promise<void> | undefined;

  constructor(readonly load: (language: Language) => Promise<void>) {}

  /** come loads it once; what failed is tried again by the next call. */
  come(language: Language): Promise<void> {
    this.#coming ??= this.load(language).catch((thrown: unknown) => {
      this.#coming = undefined;
      throw thrown;
    });
    return this.#coming;
  }
}

const missing = new Set<Loading>();
let chosen: Language | undefined;

/**
 * section says that whatever imports this needs the texts of a section; `take` keeps
 * them. They load in the reader's language alone, and are there once `spoken` says so.
 */
export function section<Name extends Section>(name: Name, take: (texts: TextsOf<Name>) => void): void {
  const loading = new Loading(async (language) => {
    take((await textsOf(name, language)) as TextsOf<Name>);
    missing.delete(loading);
  });
  missing.add(loading);
  // Who waits for it learns of a failure; nobody else has to.
  if (chosen) loading.come(chosen).catch(() => {});
}

/** fetchTexts begins to fetch sections that something which is only being imported will need. */
export function fetchTexts(...names: Section[]): void {
  if (chosen) for (const name of names) textsOf(name, chosen).catch(() => {});
}

/** choose says in which language the texts are to be. */
export function choose(language: Language): void {
  chosen = language;
}

/** chosenLanguage is the one that the texts are in. */
export const chosenLanguage = (): Language => chosen ?? 'en';

/** spoken waits for the texts of all that was imported; call it between an import and drawing what it brought. */
export async function spoken(): Promise<void> {
  const language = chosenLanguage();
  while (missing.size > 0) await Promise.all([...missing].map((loading) => loading.come(language)));
}
