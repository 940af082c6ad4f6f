import { format as f } from '../format';

/** A child's sheet: its own numbers, the sums behind them, and an experiment. */
export const car = {
  distance: 'Distance',
  lapCount: 'Laps',
  /** The result after a penalty. */
  result: (metres: string) => `result ${metres} m`,
  less: (metres: string, penalty: string, result: string) =>
    `A penalty was given: ${metres} m − ${penalty} m = ${result} m is my result.`,
  title: (who: string) => `My numbers: ${who}`,
  link: (who: string) => `All numbers of ${who}`,
  seen: 'The numbers of one car, how they come about, and what to try next.',
  unknown: 'No such car',
  unknownSays: 'There is no such car in this race day. Choose one from all cars.',
  pencil: 'to fill in',

  all: {
    title: 'All cars',
    seen: 'Every car of the race day. Find yours, and see when it races and how it ran.',
    find: 'Find a car',
    findHelp: 'By its start number or by the nickname on the screens.',
    open: 'Open',
    none: 'No car is entered yet.',
    noSuch: 'No car has this number or nickname. Who has no nickname on the screens is found by the number on the car.',
    count: (cars: number) => f.plural(cars, { one: '# car found', other: '# cars found' }),
    withdrawn: 'races no more',
  },

  next: 'What comes next',
  nextNow: (bench: number | undefined) =>
    bench === undefined ? 'Now: go to the benches.' : `Now: go to bench ${f.number(bench)}.`,
  nextRacing: 'It races now.',
  nextAbout: (time: string) => `about ${time}`,
  nextSoon: 'soon',
  nextNotBefore: (time: string) => `not before ${time}`,
  nextAhead: (n: number) =>
    n === 0 ? 'the very next heat' : f.plural(n, { one: '1 heat before it', other: '# heats before it' }),
  nextSays: 'Times may become later. A call in the hall comes before what stands here.',
  nextNone: 'No heat is drawn for this car now. The next ones come when results are in.',

  races: 'My races',
  racesIn: (division: string) => `My races, ${division}`,
  practised: (number: number) => `Practice of car ${number}, with two builds compared by hand`,
  noRaces: 'No race counts yet. The first numbers come after the first race.',
  race: 'Race',
  bench: 'Bench',
  turns: 'Turns of the roller',
  seconds: 'Seconds',
  kmhHead: 'km/h',
  battery: 'Battery, V',
  batterySays: 'Battery: the volts of the pack at rest when it was last measured before the race.',

  reckon: 'Work it out yourself',
  reckonSays: (race: string) => `Worked with ${race}; do it again with another race or with a friend’s numbers.`,
  rpm: 'Turns ÷ seconds × 60 is how often the roller turns in a minute.',
  surface: 'Turns in a minute × once around the roller is how far its surface goes in a minute.',
  far: 'Turns × once around the roller is how far my car went.',
  kmh: 'Metres in a minute × 60 ÷ 1000 is kilometres in an hour.',
  wheel: 'How often did my wheel turn in a minute? Once around it is 3.1416 × its width.',
  wheelUnknown: 'Measure across your wheel in mm.',
  motor: 'How often did my motor turn? Count the teeth: gear ratio = teeth of the axle’s wheel ÷ teeth of the motor’s.',
  motorHow: 'turns of the wheel × gear ratio = turns of the motor',
  perMinute: 'a minute',
  factor: (factor: string) =>
    `This bench reads ${factor} times what is true, so speed and distance are divided by that.`,
  slip: 'The wheel and the roller have the same speed only if the wheel does not slip. The roller cannot see slip.',
  laps: (metres: string, lap: string, laps: string) => `Laps: ${metres} m ÷ ${lap} m a lap = ${laps} whole laps.`,

  /** Written into the picture beside the sums. */
  picture: {
    roller: (mm: string) => `Roller: ${mm} mm across`,
    wheel: (mm: string) => `Wheel: ${mm} mm across`,
    wheelUnknown: 'Wheel: how many mm across?',
    around: (mm: string) => `once around: ${mm} mm`,
    turns: (turns: string, seconds: string) => `turns in ${seconds} s: ${turns}`,
    turnsAMinute: (turns: string) => `turns in a minute: ${turns}`,
  },

  /** At the foot of every page of a print of a public page. */
  foot: {
    sheet: (sheet: string, meet: string, day: string) => `${sheet} · ${meet} · ${day}`,
    page: (code: string) => `check code ${code} · page `,
    pageOf: ' of ',
  },

  tryIt: 'Try it',
  trySays:
    'Guess first. Change one thing only. Run three times before and three times after, with a pack that is as full each time.',
  change: 'I change',
  predict: 'I guess it will go',
  because: 'further or less far, because',
  tryRun: (n: number) => `Run ${f.number(n)}, m`,
  middle: 'Middle one, m',
  scatter: 'Most less least, m',
  before: 'Before',
  after: 'After',
  compare: 'The middle ones differ by',
  moreThanScatter:
    'Is that more than the runs of one row differ among themselves? If not, run more often before you believe it.',

  cannot: 'What a bench cannot show',
  cannotSays: [
    'No air is pushed away on the rollers, so a car on a track is slower.',
    'The car stands still: its own weight need not be got going, so a heavy car loses less here than on a track.',
    'Whether a wheel slips on the roller.',
  ],
  toClass: (division: string) => `The numbers of all cars of ${division}, without names`,

  /** The two editions of a child's sheet. */
  edition: { title: 'Whose sheet', young: 'For 6 to 10', older: 'For 11 to 16' },

  /** The sheet for 6 to 10: whole numbers, short sentences. */
  young: {
    races: 'My races',
    whole: 'All numbers are rounded to whole metres.',
    penalty: (metres: string) => `with the penalty: ${metres} m`,
    picture: {
      title: 'How the bench counts',
      label: 'A car stands with its wheels on two rollers. An eye looks at a mark on one roller.',
      wheel: 'wheel',
      roller: 'roller',
      eye: 'eye',
      says: 'The wheel turns the roller. The roller has a mark. Each time the eye sees the mark, the roller has gone around once.',
    },
    sum: {
      title: 'My sum',
      fact: (race: string, metres: string, seconds: string) =>
        `${race}: my car went ${metres} m in ${seconds} seconds.`,
      question: 'How many metres are that in 1 second?',
      answer: 'The answer',
      worked: (metres: string, seconds: string, each: string, left: string | undefined) =>
        `${metres} ÷ ${seconds} = ${each}${left === undefined ? '.' : ` and ${left} left over.`}`,
      nearness: {
        exactly: (each: string) => `That is ${each} m in each second.`,
        more: (each: string) => `That is a little more than ${each} m in each second.`,
        half: (each: string, next: string) => `That is half way between ${each} m and ${next} m in each second.`,
        nearly: (_: string, next: string) => `That is nearly ${next} m in each second.`,
      },
    },
    tryOne: {
      title: 'One thing to try',
      what: 'Wipe the wheels with a dry cloth. Change nothing else.',
      guess: 'First guess. It will go:',
      guesses: ['farther', 'the same', 'less far'],
      before: (metres: string) => `Before: ${metres} m.`,
      first: 'Now, run 1:',
      second: 'run 2:',
      look: 'How far apart are the two new numbers? Only if the old number is much farther away than that, it may be the wheels. If not, you cannot tell yet: run twice more.',
    },
  },

  /** The page for a class: all cars, nobody named. */
  class: {
    title: (division: string) => `All cars of ${division}`,
    seen: 'All numbers of a division without names, to find out what makes a car quick.',
    none: 'No bench has counted a race yet. The numbers come after the first.',
    plot: 'Average speed by race',
    plotSays: 'Each point is a car in one race. How far they lie apart is what there is to explain.',
    voltsPlot: 'Average speed by volts of the pack',
    voltsSays:
      'Each point is a run whose battery was measured before. Does a fuller pack make a quicker car, or is it something else?',
    race: 'Race of the car',
    speed: 'Average speed',
    all: 'All cars',
    table: 'Each car in a row, the slowest first',
    tableSays: 'Write what you know of the cars into the empty columns, and find out what goes with the speed.',
    corrected: 'Speeds are corrected for their benches, as the results are.',
    nth: (n: number) => `Race ${f.number(n)}, km/h`,
    middle: 'Middle, km/h',
    gear: 'Gear ratio',
    volts: 'Volts of the pack',
    wheel: 'Wheel, mm',
    paper: 'Speed against',
    paperSays: 'Mark each car by a cross: its speed upwards, its gear ratio or volts to the right.',
    half: (low: string, high: string, cars: number) =>
      `${f.plural(cars, { one: '# car', other: '# cars' })}; half of them lie between ${low} and ${high} km/h.`,
  },
};
