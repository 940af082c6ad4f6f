import type { BoxSources } from './box-sources';
import type { DeskSources } from './desk-sources';
import { codes, format, shared } from './en';
import type { Told } from './told';

/** Where the English texts of sections are had from. */
export type Sources = Record<string, () => Promise<object>>;

/**
 * A section is what one face, page or part of a page says. Those of the desk come with the desk, see desk-sources.ts:
 * the names of their files are no small part of the first load elsewhere.
 */
export const everywhere = {
  // English of every page is there with the page: a file of its own weighs more than it saves whoever reads another.
  shared: () => Promise.resolve({ format, shared }),
  bench: () => import('./en/bench'),
  count: () => import('./en/count'),
  phone: () => import('./en/phone'),
  practice: () => import('./en/practice'),
  afternoon: () => import('./en/afternoon'),
  life: () => import('./en/life'),
  offer: () => import('./en/offer'),
  figures: () => import('./en/figures'),
  heats: () => import('./en/heats'),
  'sign-in': () => import('./en/sign-in'),
  screen: () => import('./en/screen'),
  car: () => import('./en/screen/car'),
  rules: () => import('./en/screen/rules'),
  run: () => import('./en/run'),
  standing: () => import('./en/standing'),
  plot: () => import('./en/plot'),
  bracket: () => import('./en/bracket'),
  codes: () => Promise.resolve({ codes }),
  'day-codes': () => import('./en/day-codes'),
  'rule-codes': () => import('./en/rule-codes'),
} satisfies Sources;

/** What the server says, by section: in English it says it itself, so that nothing has to be fetched for it. */
type OfServer = { [Name in 'refused' | 'checked' | 'notes' | 'flags']: () => Promise<Record<Name, Told>> };

type All = typeof everywhere & BoxSources & DeskSources & OfServer;

/** Section is the name of one. */
export type Section = keyof All;

/** TextsOf are those of one, as the English ones are made. */
export type TextsOf<Name extends Section> = Awaited<ReturnType<All[Name]>>;

/** AllTexts are where a language has the texts of all sections, each made as the English one is. */
export type AllTexts = { [Name in Section]: () => Promise<TextsOf<Name>> };
