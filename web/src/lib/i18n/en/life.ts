import { format as f } from './format';

/** A car over its practice, the practice wall, and the leader's page. */
export const life = {
  title: (number: number) => `Practice of car ${number}`,
  link: (number: number) => `All practice of car ${number}`,
  seen: 'The practice runs of one car, what was changed at it, and how far it went.',
  none: 'No practice run of this car yet.',
  runs: 'All runs, the oldest first',
  plotLabel: (runs: number, low: string, high: string, bands: number) =>
    `${f.plural(runs, { one: '1 run', other: '# runs' })} between ${low} and ${high} km/h on the whole, in ${f.plural(bands, { one: '1 row', other: '# rows' })} of like runs. The list below has them all.`,
  later: 'later',
  best: (metres: string, seconds: string) => `The triangle is the farthest: ${metres} m in ${seconds} s.`,
  means: 'Each point is a run: up is quicker. Each stripe is what the car was made of.',
  states: 'What it was made of',
  before: 'not noted',
  state: (n: number) => `Build ${f.number(n)}`,
  nothing: 'Nothing was noted.',
  changed: (what: string) => `New: ${what}.`,
  late: (build: string, noted: string, came: string, runs: number) =>
    `${build} was noted at ${noted} on a phone that was cut off, and came here at ${came}. ${f.plural(runs, { one: '1 run', other: '# runs' })} in between ${runs === 1 ? 'counts' : 'count'} for it.`,
  notedLater: 'noted later',
  runCount: (n: number) => f.plural(n, { one: '1 run', other: '# runs' }),
  beside: {
    title: 'Which is farther?',
    cars: 'Beside another car',
    carsHelp: 'Take turns on one bench: one car, then the other, four turns each.',
    benches: 'This car on two benches',
    benchesHelp: 'Take turns: one bench, then the other, four turns each. Two benches never read quite the same.',
    car: (number: number) => `Car ${number}`,
    bench: (number: number) => `Bench ${number}`,
    pair: (one: number, other: number) => `Bench ${one} and ${other}`,
  },
  guesses: 'Guesses',
  guessesOff: (metres: string) => `The last guesses were off by ${metres} m.`,
  all: 'Every run, the newest first',
  seconds: 'Seconds',
  guess: 'Guess, m',
  madeOf: 'Build',
  card: 'Pocket card',
  cardSays: 'My runs are here:',
  cardCare: 'For the pocket: nothing on a cord near rollers.',
  scan: (number: number) => `The page of car ${number}`,

  /** The second page of a sheet for 11 to 16. */
  second: {
    title: 'Compared by hand',
    builds: (before: string, after: string) => `Before: ${before}. Now: ${after}.`,
    meanMark: 'mean',
    sums: 'The sums',
    meanBefore: 'The mean before: all metres together, shared out among the runs.',
    meanAfter: 'The mean now.',
    more: 'How much more, in metres and in percent of the mean before.',
    apart: 'How far like runs lie apart: the farthest less the shortest.',
    look: (more: string, apart: string, larger: boolean) =>
      larger
        ? `The means differ by ${more} m, and like runs by ${apart} m at most: the change is larger than the scatter.`
        : `The means differ by ${more} m, and like runs by up to ${apart} m: the scatter alone could look like that.`,
    fitted: (drift: string, change: string, low: string, high: string) =>
      `The answer above knows the order of the runs too: from one run to the next the car changed by ${drift} % by itself. With that taken out the change is ${change} %, and most likely between ${low} and ${high} %.`,
    nought: 'No change at all lies in between too: so few runs do not show it yet.',
    otherwiseTitle: 'What could have gone otherwise',
    otherwise: {
      fitted:
        'One build was fitted once only: fitted again, the same parts run a little otherwise. Take it out and fit it again.',
      order:
        'The runs stand nearly all before in one build and after in the other: what changes by itself looks like the change then. Go back to the first build once more.',
      others: (n: number) =>
        `${f.plural(n, { one: '1 other pair', other: '# other pairs' })} of builds could be compared that day: one comparison of twenty says quicker or slower by chance.`,
      pack: 'The pack got tired or rested, and the motor got warm: a straight line takes out most of that, not all.',
      hands: 'The car was held or let go otherwise, or sat otherwise on the rollers.',
      chance: 'Chance: an interval like this one misses the true change about once in twenty times.',
      track:
        'The roller may read a little too much or too little: it does so for both builds alike. On a track there is air to push away, and here there is none.',
    },
  },
  classLink: 'The class in one picture',
  classPlot: {
    title: 'The class in one picture',
    seen: 'What the cars are made of, and how quick they are. No point says whose it is.',
    which: 'Which runs',
    all: 'All afternoons',
    today: 'Today alone',
    save: 'Save as a table for a spreadsheet',
    few: (cars: number, least: number) =>
      `${f.plural(cars, { one: '1 car has', other: '# cars have' })} runs and a note of what it is made of. The picture begins with ${f.number(least)}: of fewer, each point would lead to its car.`,
    count: (cars: number, points: number) =>
      `${f.plural(points, { one: '1 point', other: '# points' })} of ${f.plural(cars, { one: '1 car', other: '# cars' })}: each is one car as it was built once, with the average of its runs.`,
    alike: 'All cars are built alike so far: change something at one, and the picture begins.',
    plots: {
      ratio: {
        title: 'Gear and speed',
        says: 'To the right the motor turns more often while the wheels turn once.',
        axis: 'Turns of the motor for one of the axle',
      },
      volts: {
        title: 'Cells and speed',
        says: 'By the number of cells: 1.2 V each where they are charged again, else 1.5 V.',
        axis: 'Volts',
      },
      wheel_mm: { title: 'Wheel and speed', says: 'To the right the wheels are larger.', axis: 'Wheel' },
      mass_g: { title: 'Weight and speed', says: 'To the right the cars are heavier.', axis: 'Weight' },
    },
    speed: 'Speed',
    point: 'One car as it was built once',
    ask: 'Cover one half of a picture with your hand. Could you guess the other half?',
    table: 'Every point',
    code: 'Letter',
    runs: 'Runs',
    rest: (points: number) =>
      `${f.plural(points, { one: '1 more point is', other: '# more points are' })} in the table to save.`,
    cannot:
      'Cars differ in more than one thing, so a picture shows what goes together, not what did it. On rollers there is no air to push away: on a track it may be otherwise.',
  },

  wall: {
    title: 'Practice today',
    waits: (number: number) => `waits for car ${number}`,
    free: 'free',
    next: 'Who is next',
    nobody: 'Nobody waits.',
    cars: 'Each car against itself',
    carsSays: 'By number. Nobody is first here.',
    last: 'last',
    farthest: 'farthest',
    runs: 'runs',
    together: 'Together we drove',
    togetherOf: (metres: string, goal: string) => `${metres} m of ${goal} m`,
    togetherSoFar: (metres: string) => `${metres} m`,
    best: 'its farthest so far',
  },
};
