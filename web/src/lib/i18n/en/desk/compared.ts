import type { Schema } from '$lib/api';
import { format as f } from '../format';

type Comparison = Schema['BenchComparison'];

/** percent writes a relative figure in per cent, as exactly as such figures are known. */
const percent = (relative: number) => `${f.number(100 * relative, Math.abs(relative) < 0.0995 ? 2 : 0)} %`;

/** The page of the benches compared. */
export const compared = {
  title: 'Benches compared',
  says: 'Cars that run on several benches tell how the benches differ. All runs of the day and the reference runs are compared, by their mean speed. What all cars lose or gain from round to round, as batteries fade, is taken out.',
  none: 'There is nothing to compare yet: race, or make a reference check.',
  from: (c: Comparison) =>
    `${f.plural(c.runs, { one: 'One run', other: '# runs' })} of ${f.plural(c.cars, { one: 'one car', other: '# cars' })} on ${f.plural(c.benches.filter((b) => b.runs > 0).length, { one: 'one bench', other: '# benches' })}.`,
  sinceCheck: (n: number) =>
    `Check ${f.number(n)} found that a bench has moved, which makes it another bench: only what came since is compared.`,
  print: 'Print',

  now: 'What may be done',
  policy: {
    report: 'The rules of this meet say: report it. The differences are shown, and nothing else follows.',
    correct:
      'The rules of this meet say: correct the results. An official adopts the factors between two heats. Results that are not official yet are divided by them from then on; official ones stay as they are.',
    'take-out': 'The rules of this meet say: take out a bench that does not agree.',
  } satisfies Record<Comparison['policy'], string>,
  equal: 'The benches differ by no more than chance gives: correcting would make the results worse, not better.',
  differ: 'The benches differ by more than chance gives.',
  inForce: (set: Schema['FactorSet']) =>
    `Factors of ${f.plural(set.runs, { one: 'one run', other: '# runs' })} have been in force since ${f.time(set.adopted)}.`,
  newer: 'The comparison has other factors by now.',
  adopt: 'Adopt the factors',
  adoptAgain: 'Adopt the new factors',
  adoptTitle: 'Adopt the factors of the benches',
  adoptSays:
    'Results that are not official yet are divided by these factors, and those that are posted are posted again, with a new protest time. Both values are kept and shown. Official results stay.',
  withdraw: 'Withdraw the factors',
  withdrawTitle: 'Withdraw the factors',
  withdrawSays:
    'Results that are not official yet count as they were read. Rounds that were closed with the factors keep them.',
  takeOut: (n: number) => `Take out bench ${f.number(n)}`,
  allAgree: 'All benches that can be judged agree: there is nothing to take out.',
  nothing: 'There is nothing to do.',
  factorsNow: 'Factors in force',
  factorsOffer: 'Factors to be adopted',
  factor: 'Factor',
  uncertainty: 'Standard uncertainty',

  factors: 'How far each bench is off',
  factorsSays: 'Reading over the mean of all benches. The line shows where the true value lies 95 times in 100.',
  offAxis: 'off the mean of the benches, %',
  mean: 'mean of the benches',
  bench: 'Bench',
  off: 'Off, %',
  low: 'From, %',
  high: 'To, %',
  unknown: 'not known',

  spread: 'How well runs repeat',
  repeatability: 'Repeat',
  repeatabilityHelp: 'standard deviation of runs of one car on one bench',
  between: 'Between benches',
  betweenHelp: 'standard deviation of the benches’ own levels',
  reproducibility: 'Across benches',
  reproducibilityHelp: 'standard deviation of runs of one car on different benches',
  percent,

  h: 'Levels beside one another (h)',
  hSays:
    'Beyond the outer lines a level is rarer than 1 in 100 among equal benches, beyond the inner ones than 5 in 100.',
  hAxis: 'h',
  k: 'Scatter beside one another (k)',
  kSays:
    'Beyond the outer line the scatter of a bench is rarer than 1 in 100 among equal ones, beyond the inner one than 5 in 100.',
  kAxis: 'k',
  five: '5 %',
  one: '1 %',
  beyond: 'Beyond',
  beyondNone: 'no line',
  pictureOf: (title: string, lines: string[]) => `${title}. ${lines.join(' ')}`,
  at: (bench: number, value: string) => `Bench ${f.number(bench)}: ${value}.`,

  each: 'Bench by bench',
  verdict: { agrees: 'agrees', 'reads high': 'reads high', 'reads low': 'reads low', noisy: 'noisy' } satisfies Record<
    NonNullable<Schema['ComparedBench']['verdict']>,
    string
  >,
  noVerdict: 'not judged',
  racesSince: (b: Schema['ComparedBench']) =>
    b.last_good
      ? `${f.plural(b.since_good, { one: 'One race', other: '# races' })} since its last good check at ${f.time(b.last_good)}.`
      : `${f.plural(b.since_good, { one: 'One race', other: '# races' })}, and no good reference check yet.`,
  outOfService: 'out of service',
  missing: 'What would make the benches comparable',

  suspects: 'Runs that do not fit in',
  suspectsSays:
    'Far from what the same car does in its other runs, benches allowed for. Look at them; nothing is left out by itself.',
  suspectsNone: 'None.',
  run: 'Run at',
  what: 'What',
  offBy: 'Off by',
  reference: (check: number, car: number) => `check ${f.number(check)}, car ${f.number(car)}`,
  drop: 'Drop',
  dropLabel: (run: string) => `Drop: run of ${run}`,

  doubt: 'Runs in doubt',
  doubtSays:
    'A failed check puts all races of its bench since the last good one in doubt. An official rules on each, or lets them stand.',
  rule: 'Rule',
  ruleLabel: (run: string) => `Rule: run of ${run}`,

  check: 'Reference check',
  checkSays:
    'Ten minutes in the morning: cars that nobody races with run on every bench in turn. Again after lunch, and whenever a bench was moved or repaired.',
  steps: 'How to do it',
  cars: 'Reference cars',
  carsNone: 'No car of the club is marked as a reference car yet. Add one by the number on it.',
  carNumber: 'Number on the car',
  addCar: 'Add the reference car',
  seconds: 'Seconds a run',
  secondsHelp: 'Half a minute is usual.',
  begin: 'Begin the check',
  beginAgain: 'Begin another check',
  beginSays: 'The bench pages then offer each bench its next run, one tap each.',
  slots: (n: number) => `Check ${f.number(n)}: the plan`,
  slot: 'Slot',
  carOf: (n: number) => `car ${f.number(n)}`,
  done: 'done',
  runNow: 'run now',
  toCome: 'to come',
  progress: (done: number, of: number) => `${f.number(done)} of ${f.number(of)} runs are done.`,
  results: (n: number, against: Schema['ReferenceCheck']['against']) =>
    ({
      itself: `Check ${f.number(n)}: there is nothing to hold it to yet, so only noise is a fault`,
      earlier: `Check ${f.number(n)}, beside the check before`,
      adopted: `Check ${f.number(n)}, beside the adopted factors`,
    })[against],
  good: 'good',
  bad: 'not good',
  early: 'too few runs yet',
  moved: 'Moved by',
};
