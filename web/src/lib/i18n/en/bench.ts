import { format as f } from './format';

const car = (number: number) => `car ${number}`;

/** Texts of the bench page: read at arm's length, in noise, by somebody in a hurry. */
export const bench = {
  title: 'Bench',
  pageTitle: (number: number, state: string) => `Bench ${number}: ${state}`,
  waiting: 'Asking the server what this bench has to do …',
  benches: 'Your benches',
  car: 'Car',
  pleaseChoose: 'Choose the bench that you stand at.',

  meanwhile: (state: string) => `Meanwhile: ${state}. Look at the bench before you go on.`,

  /** What a plate in the switch says beside its number. */
  practising: 'practice',
  wants: { called: 'car called', ready: 'ready', racing: 'racing' },

  noBench: {
    title: 'No such bench',
    sentence: 'The club has no bench at this address. Choose yours above, or ask the organiser.',
  },
  notYours: {
    title: 'Not your bench',
    sentence: 'Your link is for other benches. Choose one above, or ask the organiser for the link to this one.',
  },
  noBenches: 'No bench is entered for this device yet.',
  enterBench: 'Enter a bench at the desk',
  practiceBoard: 'Practice board',
  noPage: 'There is no page at this address. Scan the code at your bench.',

  out: {
    title: 'Out of service',
    sentence: 'Race nothing here until an official puts this bench back.',
    because: (reason: string) => `Reason: ${reason}.`,
    lane: (number: number) => `Keep ${car(number)} here: an official sends it to another bench.`,
  },
  paused: {
    title: 'The meet is paused',
    because: (reason: string) => `Reason: ${reason}.`,
    sentence: 'Start nothing. Calls wait, their time stands still.',
    called: (number: number) => `Confirm ${car(number)} when the meet goes on.`,
  },

  called: {
    title: 'Bring this car',
    state: (number: number) => `${car(number)} called`,
    deadline: 'Time left',
    over: 'The call is over. Confirm if the car is here; otherwise tell an official.',
    ask: 'Which number is on the car?',
    help: 'Read it from the car, not from this page.',
    erase: 'Erase the last digit',
    digits: 'Digits',
    go: 'Ready',
    takenBack:
      'Taken back here, but not sent yet: the network is away. The starter still sees “Ready”: call out that your bench is not ready.',
    none: 'Type the number that you read on the car.',
    wrong: (read: number, wanted: number) =>
      `Number ${read} is the wrong car. Fetch ${car(wanted)}, or ask an official.`,
    wrongCutOff: 'This page is cut off: if an official has changed the heat, wait until it is back.',
  },

  /** What the inspector's table says of the car. */
  checks: {
    pack: 'Battery pack',
    take: 'Take battery pack',
    dealt: 'Dealt by lot: no other.',
    other: 'Another pack is in the car',
    otherAsk: 'Number on the pack',
    otherWrong: (read: string) => `“${read}” is no number of a pack: read it from the pack again, or leave it empty.`,
    missing: 'The inspector’s table still wants something:',
    held: 'This car cannot race yet:',
    official: 'Send the racer there. An official may let the car race with a reason.',
    over: (time: string) => `The battery check counted until ${time}: the pack has to be measured again.`,
    caution: 'A hot, swollen or leaking battery: hands off, and tell an adult.',
  },

  ready: {
    title: 'Ready: wait for the starter',
    state: (number: number) => `${car(number)} ready`,
    unsent:
      'Confirmed here, but not sent yet: the network is away. The starter does not see it: call out that your bench is ready.',
    release: 'How the car is released',
    noRelease: 'As the starter said at the briefing.',
    safety: 'Fingers, hair, sleeves and lanyards away from the rollers. Let them stop before you touch anything.',
    race: (duration: string) => `The race lasts ${duration}.`,
    takeBack: 'Not so: take it back',
  },

  racing: {
    title: 'Racing',
    state: (number: number) => `${car(number)} races`,
    of: (whole: string) => `of ${whole}`,
    over: 'Time is up. Waiting for the counter box …',
    late: 'No run has come from the counter box. Check that it is on. If it does not come, count by hand or tell an official.',
    noSpeed: 'No speed from the counter box yet.',
    stopAll:
      'Somebody calls “Stop all”? Pass it on aloud and stop your car as the briefing said. No page stops a car. Touch nothing until the rollers stand still.',
    counted: 'Counted by hand, but not sent yet: the network is away.',
    speed: 'Speed',
  },

  figures: {
    distance: 'Distance',
    laps: 'Laps',
    top: 'Top speed',
    mean: 'Mean speed',
    penalty: (metres: string) => `Penalty of ${metres} m taken off.`,
    place: (place: string) => `${place} in this heat so far`,
    roller:
      'Speed is that of the roller under the wheels. A bench has no air to push away: speed here is not speed on a track.',
  },

  done: {
    title: (number: number) => `Measured: ${car(number)}`,
    hand: (number: number) => `Counted: ${car(number)}`,
    status: (number: number) => `Over: ${car(number)}`,
    others: 'The others of this heat still race.',
  },

  rerun: {
    open: 'Ask for a re-run',
    title: (number: number) => `Ask for a re-run of ${car(number)}`,
    why: 'What happened?',
    text: 'More about it',
    textHelp: 'About the bench, never about the child. May stay empty.',
    go: 'Ask an official',
    choose: 'Choose what happened.',
    decides: 'An official decides. Keep the car here until then.',
    heading: (number: number) => `Re-run of ${car(number)}`,
    answer: {
      sending: 'Sending …',
      unsent: 'Your request is not sent yet: the network is away. Tell an official by voice.',
      waiting: 'Asked. An official decides. Keep the car here until then.',
      granted: 'Granted: the car will be called again.',
      stands: 'Not granted: the result stands.',
    },
    dismiss: 'Understood',
  },

  hand: {
    open: 'Count by hand',
  },

  free: {
    title: 'Nothing to do now',
    state: 'free',
    nextHere: 'Next at this bench',
    nextRerun: 'for the re-run',
    next: 'Next heat, benches not called yet',
    none: 'No car is called to this bench. This page shows it the moment it is.',
  },

  unsent: {
    count: (n: number, since: string) =>
      `${f.plural(n, { one: '# order', other: '# orders' })} not sent, the oldest since ${since}`,
    keeps: 'Kept on this phone; sent by itself.',
    fleeting: 'This browser keeps nothing: leave this page open until it is sent.',
    now: 'Try now',
    strange:
      'Something else than the server answers, perhaps a log-in page of the Wi-Fi: check that this phone is in the hall’s Wi-Fi.',
    stuck: (order: string) =>
      `The server does not take this one: ${order}. Tell an official; it is tried again by itself.`,
    which: 'Which?',
    order: (what: string, time: string) => `${what}, ${time}`,
    takeBack: 'Take back',
    takeBackLabel: (order: string) => `Take back: ${order}`,
    takingBack: 'Being taken back: the server is asked whether it has it already.',
  },
  /** An order by what it was. */
  order: {
    ready: (number: number | undefined) => (number === undefined ? 'Ready' : `Ready of ${car(number)}`),
    'not-ready': (number: number | undefined) => `Taking back “Ready” of ${car(number ?? 0)}`,
    official: () => 'Call for an official',
    rerun: (number: number | undefined) => (number === undefined ? 'Re-run' : `Request for a re-run of ${car(number)}`),
    hand: (number: number | undefined) => (number === undefined ? 'Count' : `Count for ${car(number)}`),
    practice: (number: number | undefined) => (number === undefined ? 'Practice' : `Practice of ${car(number)}`),
    session: () => 'The practice afternoon',
    queue: (number: number | undefined) => `The place of ${number === undefined ? 'a car' : car(number)} in the queue`,
    cancel: () => 'Taking the run back',
    guess: () => 'The guess',
    move: (number: number | undefined) => `The run for ${number === undefined ? 'another car' : car(number)}`,
    setup: (number: number | undefined) => `The change at ${number === undefined ? 'a car' : car(number)}`,
  },
  refused: {
    no: { title: (what: string, time: string) => `${what} (${time}) was not accepted` },
    already: {
      title: (what: string, time: string) => `${what} (${time}) had come true already`,
      says: 'It went out late, and somebody else or the counter box was quicker. There is nothing to do.',
    },
    'too-old': {
      title: (what: string, time: string) => `${what} (${time}) is too old`,
      says: 'The network was away for too long. It was not carried out and will not be: give it again if it is still right.',
    },
    done: {
      title: (what: string, time: string) => `${what} (${time}) could not be taken back`,
      says: 'The server had carried it out already. Tell an official if that is wrong.',
    },
    unknown: {
      title: (what: string, time: string) => `${what} (${time}): nobody can say whether it was carried out`,
      says: 'Look at the bench, and ask an official.',
    },
    dismiss: 'Understood',
  },
};
