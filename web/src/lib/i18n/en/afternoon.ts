import { format as f } from './format';

const car = (number: number) => `car ${number}`;

/** A practice session at a bench, for children and their leader: short words, no ranking. */
export const afternoon = {
  title: 'Practice afternoon',
  open: 'Open a practice afternoon here',
  openSays: (seconds: string) =>
    `Children touch their car's number, and the bench takes the next car by itself. Each run lasts ${seconds} s.`,
  close: 'End the afternoon',
  closeSure: 'End it now? Press again.',

  /** What the whole page says by colour, shape and word. */
  ready: 'Ready',
  go: 'Go',
  stop: 'Stop',
  readySays: (number: number | undefined) =>
    number === undefined ? 'Put the car on. Hold it. Let go.' : `Put car ${number} on. Hold it. Let go.`,
  turn: (nth: number, of: number) => `run ${f.number(nth)} of ${f.number(of)}`,
  /** The same car goes on because nobody waits. */
  goesOn: 'Goes on: nobody waits',
  wait: 'Wait for the number.',
  left: 'Seconds left',
  handsOff: 'Hands off',
  silent: 'No word from the counter box.',
  silentSays: 'Look at its lamp and its cable. What it counted is kept. Then press Stop, and run again.',
  notYet: (number: number) =>
    `Nothing turns yet. If car ${number} is on and runs, look at the lamp and the cable of the counter box.`,

  pick: 'Touch your car',
  pickMore: 'Who is next? Touch your car',
  other: 'Other number',
  otherTitle: 'The number on the car',
  badNumber: 'A car number is 1 to 9999.',
  put: 'Queue up',
  joinLabel: (number: number) => `Queue up ${car(number)}`,
  queue: 'Who is next',
  nobody: 'Nobody waits.',
  inAbout: (minutes: number) => (minutes < 1 ? 'now' : `${f.number(minutes)} min`),
  place: (number: number, minutes: string) => `Car ${number}, ${minutes}`,
  skip: 'Not here',
  skipLabel: (number: number) => `Car ${number} is not here: the next one first`,

  again: (number: number) => `Again: ${car(number)}`,
  cancel: 'Stop',
  cancelLabel: 'Stop: take this run back',

  notMine: 'Not mine',
  whose: (number: number | undefined) =>
    number === undefined ? 'Whose run was it?' : `Not a run of ${car(number)}? Whose was it?`,
  isLabel: (number: number) => `It was ${car(number)}`,
  moved: (number: number) => `It stands under ${car(number)} now.`,
  back: (number: number) => `Back to ${car(number)}`,
  shut: 'Back',

  guess: 'Guess',
  guessed: 'Guess is in',
  guessTitle: (number: number | undefined) =>
    number === undefined ? 'How many metres will it go?' : `How many metres will ${car(number)} go?`,
  guessHelp: 'Nobody sees it before the run is over.',
  badGuess: 'Type the metres, 1 to 9999.',
  guessPut: 'That is my guess',
  guessOff: (guess: string, off: string, guessedMore: boolean) =>
    off === '0'
      ? `Guess ${guess} m: right on!`
      : `Guess ${guess} m: it went ${off} m ${guessedMore ? 'less far' : 'farther'}.`,

  last: (number: number | undefined) => (number === undefined ? 'Last run' : `Car ${number}, last run`),
  first: 'The first run.',
  best: 'Your farthest so far!',
  level: 'As far as your farthest.',
  farthest: (metres: string) => `Your farthest: ${metres} m`,
  short: 'Less than a second: that was no run.',
  dropped: 'This run does not count.',

  road: 'This run, and the farthest one before',
  roadEven: 'This run, and the farthest one before at an even speed',
  now: 'now',
  ghost: 'farthest',

  changed: 'Changed something',
  changedTitle: (number: number) => `What is new at ${car(number)}?`,
  changedHelp: 'Change one thing only: then you know what did it.',
  freshPack: 'Fresh pack',
  freshPackTitle: (number: number) => `Which pack goes into car ${number}?`,
  freshPackHelp: 'The number on the pack. Never charge cells that are made to be used once.',
  packLabel: (pack: number) => `Pack ${f.number(pack)} goes in`,
  chemistryTitle: 'What cells?',
  chemistry: {
    'nickel-metal-hydride': 'charged again',
    alkaline: 'alkaline, used once',
    'zinc-carbon': 'zinc, used once',
    lithium: 'lithium, used once',
  },
  refit: 'Out and in again, the same',
  refitHelp: 'Shows how much it matters how it is fitted.',
  needsNetwork: 'What the car is made of is not here yet: the network is away.',
  save: 'Save',
  saved: 'Noted. The next runs belong to it.',
  less: (what: string) => `${what}: less`,
  more: (what: string) => `${what}: more`,
  none: 'not noted',
  parts: {
    gear: 'Gear',
    wheel: 'Wheel',
    motor: 'Motor',
    cells: 'Cells',
    pack: 'Pack',
    mass: 'Weight',
    tyres: 'Tyres',
    grease: 'Grease',
  },
  fields: {
    driving_teeth: 'Teeth on the motor',
    driven_teeth: 'Teeth on the axle',
    wheel_mm: 'Wheel, mm across',
    motor: 'Number on the motor',
    cells: 'Cells',
    pack: 'Number on the pack',
    mass_g: 'Weight, g',
  },
  tyres: { none: 'no tyres', rubber: 'rubber', foam: 'foam', silicone: 'silicone' },
  grease: { none: 'dry', 'thin-oil': 'thin oil', oil: 'oil', grease: 'grease' },

  /** Is it quicker: words and an interval. */
  verdict: {
    title: 'Is it quicker?',
    quicker: (change: string, low: string, high: string) => `Quicker by ${change} % (between ${low} and ${high}).`,
    slower: (change: string, low: string, high: string) => `Slower by ${change} % (between ${low} and ${high}).`,
    about: (metres: string, more: boolean, seconds: string) =>
      `About ${metres} m ${more ? 'more' : 'less'} in ${seconds} s.`,
    asFitted: 'As fitted: take it out, fit it again to be sure.',
    more: (runs: number) => `Can’t tell yet: ${f.plural(runs, { one: 'run once more', other: 'run # times more' })}.`,
    same: (runs: number) => `The same, as far as ${f.number(runs)} runs can show.`,
    cannot: 'These runs cannot tell.',
    unfair: (why: string) => `Not a fair test: ${why}`,
    why: {
      'two-changed': 'two things changed.',
      'other-pack': 'another pack.',
      'not-noted': 'nobody noted what the car was before.',
      'other-bench': 'another bench.',
      'other-length': 'runs of another length.',
      'other-day': 'another afternoon.',
      'in-blocks': 'one after the other. Take turns.',
    } as Record<string, string>,
    before: 'before',
    after: 'now',
    dots: (before = '', after = '') => `Before: ${before} m. Now: ${after} m.`,
    next: (runs: number, state: number, refit: boolean) =>
      `Next: ${refit ? 'fit' : 'run'} build ${f.number(state)}${refit ? ' anew' : ''}, ${f.plural(runs, { one: '1 run', other: '# runs' })}.`,
    /** Two cars, or two benches with one car: who is said as carIs or benchIs does. */
    carIs: (number: number) => `Car ${number} is`,
    benchIs: (number: number) => `On bench ${number} it is`,
    farther: (who: string, change: string, low: string, high: string) =>
      `${who} farther by ${change} % (between ${low} and ${high}).`,
    putOnAgain: 'Put it on again to be sure.',
    nextOf: (who: string, runs: number) => `Next: ${who}, ${f.plural(runs, { one: '1 run', other: '# runs' })}.`,
    dotsOf: (one: string, metres: string, other: string, others: string) =>
      `${one}: ${metres} m. ${other}: ${others} m.`,
    effect: {
      start: (better: boolean): string => (better ? 'It starts quicker.' : 'It starts slower.'),
      top: (better: boolean): string => (better ? 'Its top speed is higher.' : 'Its top speed is lower.'),
      fading: (better: boolean): string => (better ? 'It keeps its speed longer.' : 'It tires sooner.'),
    },
    others: (n: number) =>
      `${f.plural(n, { one: '1 other pair', other: '# other pairs' })} could be compared today: one comparison of twenty says quicker or slower by chance.`,
  },

  children: 'For children',
  childrenOn: 'Leader: hold',
  childrenHold: 'Leader: hold this key for two seconds to leave the children’s page',
};
