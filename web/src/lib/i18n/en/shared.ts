import { format as f } from './format';

/** Texts of lib: what more than one face says. */
export const shared = {
  name: 'Benchmeet',
  skip: 'Skip to the content',
  /** Shuts a dialog without doing anything. */
  back: 'Back',
  cancel: 'Cancel',
  look: { paper: 'Light look', ink: 'Dark look' },
  working: 'Working …',
  notLoaded: 'This page could not be loaded. Check the Wi-Fi, then load it again.',
  loadAgain: 'Load again',
  needed: 'needed',

  /** What may go wrong between page and server. */
  api: {
    unreachable: 'The server cannot be reached. Check the Wi-Fi and press again: nothing is done twice.',
    strange:
      'Something else than the server has answered, perhaps a log-in page of the Wi-Fi. Check that this device is in the hall’s Wi-Fi, then press again: nothing is done twice.',
    alreadyDone: (time: string) =>
      `This was done already when you first pressed, at ${time}; only the answer was lost. Press again only to have it done once more.`,
    unknown: (status: number) =>
      `The server gave an answer that this page does not know (${status}). Load the page again.`,
    broken: 'Something went wrong on this page. Load it again, and tell the organiser if it stays so.',
  },

  live: {
    connecting: 'Connecting …',
    on: 'Live',
    never: (since: string) => `The server cannot be reached since ${since}. This page keeps trying by itself.`,
    cutOff: (since: string) =>
      `Cut off since ${since}. What you see is from then; it follows by itself once the network is back.`,
  },

  bench: (number: number | string) => `Bench ${number}`,
  startNumber: (number: number) => `Start number ${number}`,
  place: (n: number) => f.ordinal(n, { one: '#st', two: '#nd', few: '#rd', other: '#th' }),
  /** The rank in a division that races together with others. */
  inBand: (n: number, division: string) =>
    `${f.ordinal(n, { one: '#st', two: '#nd', few: '#rd', other: '#th' })} of ${division}`,
  heat: (number: number) => `Heat ${f.number(number)}`,
  round: (number: number) => `Round ${f.number(number)}`,
  rerun: 're-run',

  /** Links to the page of a run. */
  curve: 'Curve',
  curveOf: (who: string) => `Curve of the run of ${who}`,

  /** Where a car of a heat to come is to come from, inside a sentence or alone. */
  placeOf: (place: number, heat: string) =>
    `${f.ordinal(place, { one: '#st', two: '#nd', few: '#rd', other: '#th' })} of ${heat}`,
  nextBest: (n: number, round: number) => `Next best ${f.number(n)} of round ${f.number(round)}`,
  thirdPlace: 'Race for third place',
  inDivision: (division: string, heat: string) => `${division}: ${heat}`,

  units: {
    metres: 'metres',
    m: 'm',
    kmh: 'km/h',
    rpm: 'rpm',
    with: (value: string, unit: string | undefined) => (unit ? `${value} ${unit}` : value),
    seconds: 's',
    /** Points, or parts of one where equals share them: "17/2" reads "8.5". */
    points: (n: number, over = 1) =>
      over === 1
        ? f.plural(n, { one: '# point', other: '# points' })
        : `${f.number(n / over, over === 2 ? 1 : 2)} points`,
    laps: (n: number) => f.plural(n, { one: '# lap', other: '# laps' }),
    lapsWord: (n: number) => f.plural(n, { one: 'lap', other: 'laps' }),
    duration: (s: number) =>
      s % 60 === 0 && s > 0
        ? f.plural(s / 60, { one: '# minute', other: '# minutes' })
        : f.plural(s, { one: '# second', other: '# seconds' }),
  },
  plusMinus: (half: string) => `± ${half}`,
  decider: (m: string) => `decider ${m} m`,
};
