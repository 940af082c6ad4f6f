import type { bracket as English } from '../en/bracket';
import { format as f } from './format';

/** Texts of the picture of a draw and of cross tables. */
export const bracket: typeof English = {
  part: {
    main: 'Die Auslosung',
    winners: 'Sieger-Durchgänge',
    losers: 'Hoffnungs-Durchgänge',
    finals: 'Finale',
    plate: 'Trostrunde',
  },
  winnersHeat: (round, heat) => `S${f.number(round)}.${f.number(heat)}`,
  losersHeat: (round, heat) => `H${f.number(round)}.${f.number(heat)}`,
  ifNeeded: 'nur wenn nötig',
  words: (short, places, special) =>
    `${/^[SH]?\d/.test(short) ? `Lauf ${short}` : short}${special ? `, ${special}` : ''}: ${places.join('; ')}`,
  legsWon: (legs) => f.plural(legs, { one: '# Teil', other: '# Teile' }),
  inWords: (part) => `${part}, Lauf für Lauf`,
  page: (n, of) => `${f.number(n)} von ${f.number(of)}`,
  before: 'Teil davor',
  next: 'Nächster Teil',
  hold: 'Anhalten',
  holdLong: 'Den gezeigten Teil anhalten',
  stages: 'Abschnitte dieser Klasse',
  list: 'Als Liste',
  rounds: {
    none: 'Noch ist nichts ausgelost. Nach der Auslosung stehen die Durchgänge hier.',
    winnerOf: (heat) => `Wer gewinnt: ${heat}`,
    loserOf: (heat) => `Wer verliert: ${heat}`,
    nobody: 'Niemand',
    open: 'Noch offen',
    byes: 'Kommt ohne Rennen weiter',
    byeIn: (round, cars) => (cars === 1 ? `${round}: kommt ohne Rennen weiter` : `${round}: kommen ohne Rennen weiter`),
    closed: 'offiziell',
    won: 'gewonnen',
  },
  keyDouble: 'S2.1 ist Lauf 1 des Sieger-Durchgangs 2, H2.1 der des Hoffnungs-Durchgangs 2.',
  key: 'Wer gewonnen hat, steht fett mit einem Haken, und eine dicke Linie führt weiter. Eine gestrichelte Linie ist noch offen.',

  cross: (group) => (group ? `Gruppe ${group}: wer wen geschlagen hat` : 'Wer wen geschlagen hat'),
  crossSays:
    'Jede Zeile liest sich von ihrem Auto aus: S gewonnen, U unentschieden, N verloren gegen das Auto der Spalte.',
  won: 'S',
  drawn: 'U',
  lost: 'N',
  wonLong: 'gewonnen',
  drawnLong: 'unentschieden',
  lostLong: 'verloren',
  toCome: 'kommt noch',
  points: 'Punkte',
  against: (who) => `gegen ${who}`,
  car: 'Auto',
};
