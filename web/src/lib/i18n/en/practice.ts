import { format as f } from './format';

export { signal } from './signal';

const car = (number: number) => `car ${number}`;

/** Texts of a free bench: its last run, practice and reference runs. */
export const practice = {
  title: 'Try a car',
  help: 'Practice counts for nothing. A call comes first.',
  car: 'Car number',
  carHelp: 'Empty for none.',
  seconds: 'Seconds',
  go: 'Go',
  badCar: 'A car number is 1 to 9999, or empty.',
  unsent: 'Not sent yet: the network is away. The bench starts if it is back within a minute.',
  armed: 'Practice: put the car on',
  armedHelp: 'The counter box counts once you let go. Hold the car, then let it go.',
  lasts: (duration: string) => `The run lasts ${duration}.`,
  of: (number: number | undefined) =>
    number === undefined ? 'Practice without a number' : `Practice of ${car(number)}`,
  at: (time: string) => `at ${time}`,
  before: 'Runs before, at this bench',
  compare:
    'Change one thing, make three runs each way and compare. A difference smaller than that between like runs means nothing.',
  when: 'Time',

  /** Nothing is heard of the counter box of this bench. */
  box: {
    quiet: {
      title: 'The counter box is silent.',
      todo: 'Is the computer beside it on, and in the network? Look at its lamp and its plug.',
    },
    unplugged: { title: 'The counter box is gone.', todo: 'Push the plug of its cable in, at both ends.' },
    kept: 'What it counted is kept.',
    unheard: 'The counter box has not been heard yet. Is it on?',
  },

  reference: {
    title: 'Reference check',
    says: (slot: number | undefined) =>
      slot === undefined
        ? 'This bench has a run to make.'
        : `Slot ${f.number(slot)} of the plan is next here. Fresh pack, motor warm, nothing tuned in between.`,
    go: (number: number, duration: string) => `Run ${car(number)} for ${duration}`,
    armed: 'Reference run: put the car on',
    of: (number: number) => `Reference run of ${car(number)}`,
  },
  /**
   * Flags of a measurement for whoever stands at the bench: what it means, what to do. Others come as the server says
   * them.
   */
  flags: {
    'no-signal': 'The sensor saw nothing. Check its light and its cable, then ask for a re-run.',
    'cut-short': 'The run ended too early. If the counter box stopped, ask for a re-run.',
    'early-start': 'The rollers turned before the start. Tell the starter.',
    'no-rise': 'The car was at full speed at once: it ran before the start. Tell the starter.',
    bridged: 'The sensor missed a few passes; they are filled in. Nothing to do.',
    'many-bridged': 'The sensor missed many passes. Clean it and ask for a re-run.',
    'many-extra': 'The sensor saw things that were not the mark. Shade it from lamps and sun.',
    'start-missed': 'The sensor missed the first passes. Check the mark and its light.',
    burst: 'Something flashed at the sensor, a remote control perhaps. Keep remotes away and shade the sensor.',
    'stray-stamps': 'Stray light reaches the sensor. Shade it.',
    'went-silent':
      'The passes ended while the rollers turned: the sensor or its cable failed. Check both, then race again.',
    'silent-end': 'The last passes before the end did not come. Did the car stop, or was the mark lost?',
    'mark-silent': 'One of the marks is never seen. Clean the marks before the next car.',
    'passes-lost': 'Passes were lost on the way from the counter box. Check its cable.',
    'no-interval': 'Nobody can say how far this is off. Ask for a re-run.',
    'open-gap': 'There is a hole in the signal. Check the cable and ask for a re-run.',
    stalled: 'The rollers stood still for a while. Did the car stop?',
    'off-rollers': 'It looks as if the car left the rollers.',
    'mains-flicker': 'A lamp may disturb the sensor. Shade it.',
    'half-speed': 'The sensor saw only every second pass. Check the mark and ask for a re-run.',
    'double-speed': 'The sensor saw each pass twice. Check the mark and ask for a re-run.',
    'half-of-others': 'The reading is half of the others’. Check the mark and tell an official.',
    'double-of-others': 'The reading is double the others’. Check the mark and tell an official.',
    'too-fast': 'Faster than a car can be. Check the sensor and ask for a re-run.',
    'distance-not-reached': 'The car did not come as far as was asked.',
    'row-filled': 'The sensor missed a row of passes; they are filled in. Clean the mark.',
    'late-end': 'The last pass came late. Did the car slow down at the end?',
    noise: 'The sensor saw flickers; they are left out. Shade it.',
    backwards: 'Some of what the sensor saw made no sense and is left out. Tell an official.',
    'impossible-stamp': 'Some of what the sensor saw made no sense and is left out. Tell an official.',
    'clock-ambiguous': 'The clock of the counter box may have run over. Tell an official.',
    'totals-disagree': 'The counter box counted otherwise than what came here. Ask for a re-run.',
    'list-cut': 'So much was put right that the list of it is cut short; the numbers are whole.',
    'bench-factor': 'What this bench reads too much or too little is put right.',
    restarted: 'The counter box started anew during the run. Check its power and ask for a re-run.',
  } as Record<string, string>,
  flagsTitle: 'What the bench noticed',
};

/** The drill with a pretend car. */
export const drill = {
  open: 'Try this page with a pretend car',
  title: 'Drill',
  says: 'A pretend car and a pretend hall. Nothing is sent, nothing counts, nobody else sees it. A real call ends it; the key at the top that asks for an official stays real.',
  away: 'Pretend that the network is away',
  back: 'Network back',
  isAway: 'Pretend: the network is away. In a race, go on and count by hand.',
  end: 'End the drill',
  again: 'Call the pretend car again',
  rerun: 'Race it again',
  hints: {
    called: (n: number) => `Fetch car ${n}: pretend to read the number from the car, type ${n} and press Ready.`,
    ready: () => 'The pretend starter starts in a few seconds. Hands off.',
    racing: () => 'It races. Try “Ask for a re-run”, or have the network go away and count by hand.',
    done: () => 'The run is in. Look at the numbers; a re-run can be asked for here too.',
  } as Record<'called' | 'ready' | 'racing' | 'done', (n: number) => string>,
};
