import { Format } from '../format';
import type { AllTexts } from '../sources';
import type { Told } from '../told';
import { drawnOut, longer } from './drawn-out';

/** of gives a section of English with every text drawn out. */
const of = async <Texts extends object>(english: Promise<Texts>): Promise<Texts> => drawnOut(await english);

/** everyCode has a text for every code of the server, so that none of its own sentences comes through. */
const everyCode = new Proxy({} as Told, {
  get: (_, code) => (typeof code === 'string' && !code.includes('=') ? longer(code.replaceAll('-', ' ')) : undefined),
});

/**
 * Where the texts of the pretended language are: the English ones drawn out, so that what is written past the
 * catalogues is seen, and what has no room for a longer language.
 */
export const texts: AllTexts = {
  shared: async () => ({
    ...(await of(import('../en/shared'))),
    format: new Format('en-GB'),
  }),
  codes: () => of(import('../en/codes')),
  bench: () => of(import('../en/bench')),
  count: () => of(import('../en/count')),
  phone: () => of(import('../en/phone')),
  practice: () => of(import('../en/practice')),
  afternoon: () => of(import('../en/afternoon')),
  life: () => of(import('../en/life')),
  offer: () => of(import('../en/offer')),
  figures: () => of(import('../en/figures')),
  heats: () => of(import('../en/heats')),
  'sign-in': () => of(import('../en/sign-in')),
  screen: () => of(import('../en/screen')),
  car: () => of(import('../en/screen/car')),
  rules: () => of(import('../en/screen/rules')),
  run: () => of(import('../en/run')),
  standing: () => of(import('../en/standing')),
  plot: () => of(import('../en/plot')),
  bracket: () => of(import('../en/bracket')),
  'day-codes': () => of(import('../en/day-codes')),
  'rule-codes': () => of(import('../en/rule-codes')),
  refused: () => Promise.resolve({ refused: everyCode }),
  checked: () => Promise.resolve({ checked: everyCode }),
  notes: () => Promise.resolve({ notes: everyCode }),
  flags: () => Promise.resolve({ flags: everyCode }),
  box: () => of(import('../en/screen/box')),
  desk: () => of(import('../en/desk')),
  now: () => of(import('../en/desk/now')),
  entries: () => of(import('../en/desk/entries')),
  programme: () => of(import('../en/desk/programme')),
  inspection: () => of(import('../en/desk/inspection')),
  rulings: () => of(import('../en/desk/rulings')),
  seeds: () => of(import('../en/desk/seeds')),
  times: () => of(import('../en/desk/times')),
  formats: () => of(import('../en/desk/formats')),
  plan: () => of(import('../en/desk/plan')),
  compared: () => of(import('../en/desk/compared')),
  paper: () => of(import('../en/desk/paper')),
  'measure-again': () => of(import('../en/desk/measure-again')),
  'practice-desk': () => of(import('../en/desk/practice')),
  lessons: () => of(import('../en/desk/lessons')),
  club: () => of(import('../en/desk/club')),
  account: () => of(import('../en/desk/account')),
  'desk-codes': () => of(import('../en/desk-codes')),
};
