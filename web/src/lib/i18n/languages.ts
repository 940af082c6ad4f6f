import type { AllTexts } from './sources';

/** What a folder of texts has: every section by its name. */
interface Folder {
  texts: AllTexts;
}

interface Of {
  /** What the language calls itself, for whoever chooses; without one it is offered to nobody. */
  name?: string;
  /** Its folder; without one the texts are the English ones, which the sections name themselves. */
  folder?: () => Promise<Folder>;
}

/**
 * The languages that the texts are there in. To add one, put a folder beside en whose index has all texts, and name
 * it here: the compiler says what is missing in it. README.md beside this file says more.
 */
export const languages = {
  en: { name: 'English' },
  de: { name: 'Deutsch', folder: () => import('./de') },
  // English drawn out, to see what no language but English fits: ?lang=qaa (a code of ISO 639-2 for local use).
  qaa: { folder: () => import('./qaa') },
} satisfies Record<string, Of>;

export type Language = keyof typeof languages;

/** folderOf is where the texts of a language are; undefined for English. */
export const folderOf = (language: Language): Of['folder'] => (languages[language] as Of).folder;
