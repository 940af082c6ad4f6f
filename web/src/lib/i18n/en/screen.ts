import { format as f } from './format';

/** Texts of the public screen: words that a family understands. */
export const screen = {
  /** The one line that says what is being seen. */
  seen: {
    hall: 'Who races now, who is called to a bench, and the newest results.',
    standings: (division: string) => `How ${division} stand, best first.`,
    bracket: (division: string) => `Who races whom in ${division}, round by round.`,
    run: 'One run: how quick it was, moment by moment.',
    practice: 'Practice runs, newest first. They count for nothing.',
    choose: 'Choose a race day, or look at the practice board.',
  },

  choose: {
    title: 'Race days',
    none: 'No race day is planned yet. Once the organiser has planned one, it stands here.',
    practice: 'Practice board',
    which: 'Which club?',
    shared: 'Several clubs race here. Scan the code of your club, or open the whole link that it gave you.',
  },

  noMeet: {
    title: 'No such race day',
    sentence: 'There is no race day at this address. Choose one from the list.',
    back: 'To the list of race days',
  },
  noPage: {
    title: 'Nothing here',
    sentence: 'There is no page at this address.',
  },
  noDivision: {
    title: 'No such division',
    sentence: 'There is no such division in this race day.',
    back: 'To the race day',
  },
  waiting: 'Waiting for the server …',
  /** Which race day a sheet is of. */
  dayAndPlace: ({ date, place }: { date: string; place?: string | undefined }) =>
    [f.date(date), place].filter(Boolean).join(', '),
  print: 'Print the sheet',
  printPage: 'Print',

  racing: {
    title: 'Racing now',
    none: 'Nobody races at this moment.',
    left: (time: string) => `${time} left`,
    ended: 'Time is up',
    leads: 'leads',
    waitsForRun: 'waits for the bench',
  },
  called: {
    title: 'Come to your bench',
    none: 'No heat is called.',
    within: (time: string) => `within ${time}`,
    over: 'now!',
    ready: 'ready',
    /** Dealt by lot, to be fetched on the way to the bench. */
    pack: (pack: string) => `take battery pack ${pack}`,
  },
  next: {
    title: 'Get ready',
    none: 'No more heats are drawn yet.',
    over: 'All races of the day are run.',
    about: (time: string) => `about ${time}`,
    soon: 'soon',
    late: (minutes: number) => `The day is about ${f.number(minutes)} minutes later than we said.`,
    more: (heats: number) => f.plural(heats, { one: 'and # more heat', other: 'and # more heats' }),
    moreCars: (cars: number) =>
      f.plural(cars, { one: 'and # more car of this heat', other: 'and # more cars of this heat' }),
  },
  results: {
    title: 'Newest results',
    none: 'No result yet. The first comes after the first heat.',
    provisional: (until: string) => `may change until ${until}`,
    provisionalOver: 'may still change',
    official: 'official',
    byHand: 'counted by hand',
    penalty: (metres: string) => `after a penalty of ${metres} m`,
  },
  standings: {
    title: 'Standings',
    none: 'No standings yet. They begin with the first result.',
    noneYet: 'No result yet.',
    turn: (n: number, of: number) => `${f.number(n)} of ${f.number(of)}`,
    places: (from: number, to: number) => `places ${f.number(from)} to ${f.number(to)}`,
    hold: 'Hold',
    holdLong: 'Hold the standings that are shown',
    place: 'Place',
    racer: 'Car',
    result: 'Result',
    race: (round: number) => `Race ${f.number(round)}`,
    /** Heads the lines that a stage ranks. */
    stage: (kind: string, rule: string | undefined) => (rule ? `${kind}: ${rule}` : kind),
    note: 'Note',
    winner: 'winner',
    winnerYet: 'winner, may still change',
    inIt: 'still racing',
    unranked: '–',
    unrankedSpoken: 'no place',
    tooClose: (numbers: number[]) =>
      `too close to ${numbers.length === 1 ? 'number' : 'numbers'} ${f.list(numbers.map((n) => f.number(n)))} to tell`,
    state: (final: boolean, published: number) =>
      published > 1
        ? `Official, correction ${f.number(published - 1)}`
        : published === 1
          ? 'Official'
          : final
            ? 'May still change'
            : 'As it stands now',
    changed: 'Changed since, not official yet',
    together: (names: string) => `Raced together with ${names}; each division has places of its own.`,
    among: (division: string, host: string) => `Raced together with ${host}; these are the places among ${division}.`,
    all: 'Whole table',
    bracket: 'Rounds',
  },

  practice: {
    title: 'Practice',
    none: 'No practice run yet. Ask at a bench that is free.',
    start: 'Run a bench from this device',
    now: 'On the benches',
    noneNow: 'No bench is running.',
    runs: 'Practice runs',
    at: 'Time',
    bench: 'Bench',
    car: 'Car',
    noCar: 'no number',
    distance: 'Distance',
    laps: 'Laps',
    mean: 'Average speed',
    top: 'Top speed',
    lasted: 'Lasted',
    roller:
      'Speed is that of the roller under the wheels. A bench has no air to push away, so a car on a track is slower.',
  },

  paused: {
    title: 'The race day is paused',
    because: (reason: string) => `Reason: ${reason}.`,
    wait: 'Your call waits for you: its time stands still.',
  },

  meet: {
    back: 'Race day',
    cars: 'All cars',
    find: 'Find your car',
    rules: 'Rules',
    pages: 'Pages of this race day',
    standingsOf: (division: string) => `Standings ${division}`,
    roundsOf: (division: string) => `Rounds ${division}`,
    phone: (address: string) => `On your phone: ${address}`,
    checkCode: (code: string) => `Check code ${code}`,
    checkCodeMeans:
      'The check code changes with everything that is written down. Two screens with the same code show the same.',
  },
};
