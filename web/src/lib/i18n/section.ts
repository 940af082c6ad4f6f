/**
 * Language is one that the texts are there in. To add one, name it here and give its files below: the compiler tells
 * where.
 */
export type Language = 'en';

/**
 * Where the texts of each section are had from, by language. A section is what one face, page or part of a page says.
 */
const sources = {
  shared: { en: () => import('./en') },
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
  desk: { en: () => import('./en/desk') },
  now: { en: () => import('./en/desk/now') },
  entries: { en: () => import('./en/desk/entries') },
  programme: { en: () => import('./en/desk/programme') },
  inspection: { en: () => import('./en/desk/inspection') },
  rulings: { en: () => import('./en/desk/rulings') },
  seeds: { en: () => import('./en/desk/seeds') },
  plan: { en: () => import('./en/desk/plan') },
  compared: { en: () => import('./en/desk/compared') },
  paper: { en: () => import('./en/desk/paper') },
  'measure-again': { en: () => import('./en/desk/measure-again') },
  club: { en: () => import('./en/desk/club') },
  codes: { en: () => import('./en') },
  'day-codes': { en: () => import('./en/day-codes') },
  'rule-codes': { en: () => import('./en/rule-codes') },
  'desk-codes': { en: () => import('./en/desk-codes') },
} satisfies Record<string, Record<Language, () => Promise<object>>>;

/** Section is the name of one. */
export type Section = keyof typeof sources;
type TextsOf<Name extends Section> = Awaited<ReturnType<(typeof sources)[Name]['en']>>;

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

const languages = Object.keys(sources.shared) as Language[];
const missing = new Set<Loading>();
let chosen: Language | undefined;

/**
 * section says that whatever imports this needs the texts of a section; `take` keeps
 * them. They load in the reader's language alone, and are there once `spoken` says so.
 */
export function section<Name extends Section>(name: Name, take: (texts: TextsOf<Name>) => void): void {
  const loading = new Loading(async (language) => {
    take((await sources[name][language]()) as TextsOf<Name>);
    missing.delete(loading);
  });
  missing.add(loading);
  // Who waits for it learns of a failure; nobody else has to.
  if (chosen) loading.come(chosen).catch(() => {});
}

/** fetchTexts begins to fetch sections that something which is only being imported will need. */
export function fetchTexts(...names: Section[]): void {
  if (chosen) for (const name of names) sources[name][chosen]().catch(() => {});
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
