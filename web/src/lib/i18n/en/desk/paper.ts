import { format as f } from '../format';

export { evening } from './evening';

const code = (of: string) => `check code ${of}`;

/** What the desk prints. */
export const paper = {
  title: 'Paper',
  says: 'Each press opens the print of your browser, from where it can be kept as a file too. A4 and Letter are both right.',
  print: 'Print',
  printOf: (sheet: string) => `Print: ${sheet}`,
  look: 'Look',
  lookAt: (sheet: string) => `Look: ${sheet}`,
  back: 'All prints',
  printThis: 'Print this',
  officials:
    'For officials: names stand here that families did not agree to show. Not for the wall; shred it after the day.',
  groups: { round: 'The next round', day: 'The day', evening: 'The evening before' },

  /** At the head and the foot of a sheet. */
  code,
  printed: (time: string) => `Printed at ${time}.`,
  codeMeans: (of: string) =>
    `Check code ${of}: the first signs of the log’s fingerprint at that moment. It changes with all that is written down, so sheets with one code tell of one moment, and the log can prove it.`,
  noCode: 'The day went on while this was read, so it has no check code: print it again in a quiet moment.',
  foot: (sheet: string, meet: string, day: string) => `${sheet} · ${meet} · ${day}`,
  page: (of: string) => (of ? `${code(of)} · page ` : 'page '),
  pageOf: ' of ',

  division: 'Division',
  allDivisions: 'All divisions',
  round: 'Round',
  nextRound: 'What is raced next',
  none: {
    entries: 'Nobody is entered yet.',
    next: 'No round that has still to be raced is drawn.',
    results: 'No result is posted yet.',
    benches: 'No bench is in the meet yet.',
  },

  /** The draw that is not on paper. */
  unprinted: (rounds: string[]) => `Drawn, and not printed from this desk: ${f.list(rounds)}.`,
  unprintedSays: 'With the paper kit the round can be raced without power and network.',
  kitNow: 'Print the paper kit now',

  sheets: {
    kit: { name: 'Paper kit', says: 'Call list and heat sheets of the next round, in one print.' },
    'call-list': { name: 'Call list', says: 'What the caller reads: who comes now, who gets ready, how to say it.' },
    'heat-sheets': {
      name: 'Heat sheets',
      says: 'To write down by hand what cars do at the benches, signed by an official.',
    },
    'start-list': { name: 'Start list', says: 'Who races in which division, for the wall.' },
    'roll-call': { name: 'Roll-call', says: 'Who is here and who has gone home, to tick by hand.' },
    results: { name: 'Results', says: 'A round as it is posted: places, penalties, until when it can be protested.' },
    certificates: {
      name: 'Certificates',
      says: 'One for everybody; places stand on them once the results are official.',
    },
    evening: {
      name: 'The evening before',
      says: 'What to look after tonight, and everything for tomorrow in one print.',
    },
    plates: { name: 'Bench plates', says: 'A large plate for each bench.' },
    cards: { name: 'Pocket cards', says: 'Number, division and the address of the own page, to cut out.' },
    pictures: { name: 'At the bench', says: 'Half a page for volunteers, in six pictures.' },
    rules: { name: 'Rules of the day', says: 'What was agreed before the first heat. It is the same for everybody.' },
    care: { name: 'Take care', says: 'The cautions in large print, for the wall.' },
  },

  heat: 'Heat',
  bench: 'Bench',
  number: 'Number',
  car: 'Car',
  who: 'Name',
  sayAs: 'Say',
  club: 'Club',
  note: 'Note',
  here: 'Here',
  gone: 'Gone home',
  pack: 'Pack',
  laps: 'Laps',
  distance: 'Metres',
  flag: 'What happened',

  startList: {
    says: 'Nicknames stand here where families agreed to show them, else the number alone.',
    count: (n: number) => f.plural(n, { one: '# entry', other: '# entries' }),
    sharesCar: (numbers: number[]) => `same car as ${f.list(numbers.map((n) => f.number(n)))}`,
    racesUp: 'races up',
    withdrawn: 'withdrawn',
    disqualified: 'disqualified',
    racesIn: (division: string) => `Races together with ${division}.`,
  },

  callList: {
    now: 'Now to the benches:',
    ready: 'Get ready:',
    readyLast: 'This is the last heat of the round.',
    calls: ['First call', 'Second call', 'Last call'],
    numberOf: (n: number) => `number ${f.number(n)}`,
    called: 'already called',
  },

  heatSheet: {
    says: (hand: string) =>
      `No network or no power: race by the clock in your hand. Count laps or read the metres, write them here, sign, and bring the sheet to the desk. ${hand}`,
    ranks: 'A count by hand is marked as one, and ranks.',
    shown: 'A count by hand is marked as one, and does not rank by the rules of this day.',
    race: (duration: string, lap: string) => `The race lasts ${duration}. A lap is ${lap} m.`,
    begun: 'Started at',
    signature: 'Signature of the official',
    flags: 'off the rollers, stalled, false start, bench failed, did not start',
    lost: 'Network gone in mid-heat? Let the race end, write, then wait for the desk: a run that the counter box keeps still counts first.',
    care: 'Fingers, hair and sleeves away; let the rollers stop before you touch anything. “Stop all” is for everybody.',
  },

  results: {
    provisional: (until: string) => `Provisional: can be protested until ${until}.`,
    protestOver: 'Provisional: the time for protests is over.',
    official: 'Official.',
    open: 'Not raced to the end yet.',
    place: 'Place',
    distance: 'Distance',
    laps: 'Laps',
    penalty: (metres: string) => `penalty of ${metres} m taken off`,
    hand: 'counted by hand',
    corrected: (read: string) => `divided by the bench’s factor; the bench read ${read} m`,
    plusMinus: 'The ± holds the true distance 95 times in 100.',
  },

  certificates: {
    size: 'Size',
    sizes: { page: 'One a page', half: 'Two a page' },
    title: 'Certificate',
    raced: (meet: string) => `has built a car and raced it on the rollers at ${meet}`,
    number: (n: number) => `Car ${f.number(n)}`,
    place: (place: string, of: number) => `${place} of ${f.number(of)}`,
    in: (division: string) => `in ${division}`,
    races: (n: number) => f.plural(n, { one: '# race', other: '# races' }),
    longest: (metres: string) => `the longest ${metres} m`,
    unofficial: 'The results are not official yet, so no places stand on the certificates.',
    organiser: 'Organiser',
    official: 'Official',
    nobody: 'Nobody is entered in this division.',
  },

  rollCall: {
    says: 'Count at the times that you write above the columns. After an alarm: who is ticked here and not gone home has to be found.',
    hour: 'Time',
  },

  cards: {
    own: 'My page, once I have raced:',
    care: 'For the pocket: nothing on a cord near rollers.',
    scan: (n: number) => `Code of the page of car ${f.number(n)}`,
  },

  plates: {
    bench: 'Bench',
    scan: (n: number) => `Code of the page of bench ${f.number(n)}`,
    code: 'For volunteers who are signed in: this code opens the page of this bench. It holds no key.',
  },

  pictures: {
    title: 'At the bench',
    steps: [
      { title: 'Sign in', says: 'Point the phone’s camera at your key. The bench page opens.' },
      { title: 'Read the number', says: 'A car is called: read the number on the car and type it.' },
      { title: 'Hands off, ready', says: 'Car over the rollers. Press Ready. Nobody touches the rollers.' },
      { title: 'Wait for the starter', says: 'The starter says go. Let the car down as the briefing said.' },
      { title: 'Let them stop', says: 'Time is up: wait until the rollers stand still. Then take the car.' },
      { title: 'Something wrong?', says: 'Keep the car here, ask for a re-run on the page, call an official.' },
    ],
    stop: '“Stop all” is for everybody: pass it on aloud. No page stops a car.',
    cut: 'cut here',
  },
};
