import type { BoxSources } from './box-sources';
import type { DeskSources } from './desk-sources';
import { codes, format, shared } from './en';

/**
 * Language is one that the texts are there in. To add one, name it here and give its files below: the compiler tells
 * where.
 */
export type Language = 'en';

/** Where the texts of sections are had from, by language. */
export type Sources = Record<string, Record<Language, () => Promise<object>>>;

/**
 * A section is what one face, page or part of a page says. Those of the desk come with the desk, see desk-sources.ts:
 * the names of their files are no small part of the first load elsewhere.
 */
const everywhere = {
  // English of every page is there with the page: a file of its own weighs more than it saves whoever reads another.
  shared: { en: () => Promise.resolve({ format, shared }) },
  bench: { en: () => import('./en/bench') },
  phone: { en: () => import('./en/phone') },
  practice: { en: () => import('./en/practice') },
  offer: { en: () => import('./en/offer') },
  figures: { en: () => import('./en/figures') },
  heats: { en: () => import('./en/heats') },
  'sign-in': { en: () => import('./en/sign-in') },
  screen: { en: () => import('./en/screen') },
  car: { en: () => import('./en/screen/car') },
  rules: { en: () => import('./en/screen/rules') },
  run: { en: () => import('./en/run') },
  standing: { en: () => import('./en/standing') },
  plot: { en: () => import('./en/plot') },
  bracket: { en: () => import('./en/bracket') },
  codes: { en: () => Promise.resolve({ codes }) },
  'day-codes': { en: () => import('./en/day-codes') },
  'rule-codes': { en: () => import('./en/rule-codes') },
} satisfies Sources;
type All = typeof everywhere & BoxSources & DeskSources;
const sources: Sources = { ...everywhere };

/** add takes up sections of one face. */
export function add(more: Sources): void {
  Object.assign(sources, more);
}

/** Section is the name of one. */
export type Section = keyof All;
type TextsOf<Name extends Section> = Awaited<ReturnType<All[Name]['en']>>;

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

const languages = Object.keys(everywhere.shared) as Language[];
const missing = new Set<Loading>();
let chosen: Language | undefined;

/**
 * section says that whatever imports this needs the texts of a section; `take` keeps
 * them. They load in the reader's language alone, and are there once `spoken` says so.
 */
export function section<Name extends Section>(name: Name, take: (texts: TextsOf<Name>) => void): void {
  const loading = new Loading(async (language) => {
    take((await sources[name]![language]()) as TextsOf<Name>);
    missing.delete(loading);
  });
  missing.add(loading);
  // Who waits for it learns of a failure; nobody else has to.
  if (chosen) loading.come(chosen).catch(() => {});
}

/** fetchTexts begins to fetch sections that something which is only being imported will need. */
export function fetchTexts(...names: Section[]): void {
  if (chosen) for (const name of names) sources[name]![chosen]().catch(() => {});
}

/** choose takes the first wanted language that is there, else English. */
export function choose(wanted: readonly string[]): void {
  chosen =
    wanted
      .map((tag) => tag.split('-')[0]!.toLowerCase())
      .find((tag): tag is Language => languages.includes(tag as Language)) ?? 'en';
}

/** spoken waits for the texts of all that was imported; call it between an import and drawing what it brought. */
export async function spoken(): Promise<void> {
  const language = chosen ?? 'en';
  while (missing.size > 0) await Promise.all([...missing].map((loading) => loading.come(language)));
}
