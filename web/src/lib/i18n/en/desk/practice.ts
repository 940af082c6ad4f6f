import { format as f } from '../format';

/** Practice at the desk: opening and ending an afternoon, and the leader's page. */
export const practiceDesk = {
  title: 'Practice',
  board: 'Practice board',
  bench: 'Run a bench from this device',
  openTitle: 'Open a practice afternoon',
  open: 'Open it',
  benches: 'Benches',
  how: 'How it goes',
  seconds: 'Seconds a run',
  secondsHelp: 'A turn of two runs of 15 s takes about 90 s.',
  turn: 'Runs a turn',
  turnHelp: 'Then the car goes to the back of the queue.',
  goal: 'Goal of all together, m',
  goalHelp: 'Shown as one growing bar on the board. Empty for none.',
  noBench: 'No bench is entered yet.',
  noneFree: 'Every bench is in an open afternoon.',
  enterBench: 'Enter a bench',
  openOn: (benches: string) => `Open: ${benches}`,
  since: (time: string, seconds: string, turn: string) =>
    `Since ${time}; runs of ${seconds} s, ${turn} a turn. A called heat of a race day takes its bench back. An adult stands at each running bench for children under eight.`,
  end: 'End the afternoon',
  endSays: 'The queue ends, and what the benches wait for is taken back. A run under way is kept.',
  over: 'Afternoons before',
  overOn: (day: string, time: string, benches: string) => `${day}, ${time}: ${benches}`,
  report: {
    caption: 'Cars of the afternoon',
    car: 'Car',
    runs: 'Runs',
    last: 'Last, m',
    farthest: 'Farthest, m',
    builds: 'Builds tried',
    guesses: 'Guesses off by, m',
    at: 'Last run',
    sum: (runs: number, metres: string) =>
      `${f.plural(runs, { one: '1 run', other: '# runs' })}, ${metres} m together.`,
    fewest: (cars: string) => `Fewest runs: car ${cars}.`,
    waiting: (cars: string) => `Not run for 15 minutes: car ${cars}.`,
    says: 'By number: it is no ranking. Whether a change made a car quicker stands on the page of the car.',
  },
};
