import { format as f } from './format';

/** Texts of the picture of a draw and of cross tables. */
export const bracket = {
  part: { main: 'The draw', winners: 'Winners’ rounds', losers: 'Losers’ rounds', finals: 'Finals', plate: 'Plate' },
  /** A heat of the winners' or the losers' rounds, short enough for the picture. */
  winnersHeat: (round: number, heat: number) => `W${f.number(round)}.${f.number(heat)}`,
  losersHeat: (round: number, heat: number) => `L${f.number(round)}.${f.number(heat)}`,
  ifNeeded: 'raced only if needed',
  /** A heat in words: its number, who races, and what is special about it. */
  words: (short: string, places: string[], special: string | undefined) =>
    `${/^[WL]?\d/.test(short) ? `Heat ${short}` : short}${special ? `, ${special}` : ''}: ${places.join('; ')}`,
  /** How many of several legs somebody won. */
  legsWon: (legs: number) => f.plural(legs, { one: '# leg', other: '# legs' }),
  inWords: (part: string) => `${part}, heat by heat`,
  page: (n: number, of: number) => `${f.number(n)} of ${f.number(of)}`,
  before: 'Part before',
  next: 'Next part',
  hold: 'Hold',
  holdLong: 'Hold the part that is shown',
  stages: 'Stages of this division',
  list: 'As a list',
  /** Where a car comes from and goes to. */
  rounds: {
    none: 'Nothing is drawn yet. The rounds stand here after the draw.',
    winnerOf: (heat: string) => `Winner of ${heat}`,
    loserOf: (heat: string) => `Loser of ${heat}`,
    nobody: 'Nobody',
    open: 'To be seen',
    byes: 'Goes on without a race',
    /** Where a round is not beside it. */
    byeIn: (round: string, cars: number) =>
      cars === 1 ? `${round}: goes on without a race` : `${round}: go on without a race`,
    closed: 'official',
    won: 'won',
  },
  keyDouble: 'W2.1 is heat 1 of the winners’ round 2, L2.1 of the losers’ round 2.',
  key: 'Who won stands in bold with a tick, and a thick line leads on. A dashed line is still open.',

  cross: (group: string | undefined) => (group ? `Group ${group}: who beat whom` : 'Who beat whom'),
  crossSays: 'Each row reads from its car: W won, D equal, L lost against the car of the column.',
  won: 'W',
  drawn: 'D',
  lost: 'L',
  wonLong: 'won',
  drawnLong: 'equal',
  lostLong: 'lost',
  toCome: 'to come',
  points: 'Points',
  against: (who: string) => `against ${who}`,
  car: 'Car',
};
