import { format as f } from '../format';

/** Measuring the runs of a bench again under other settings. */
export const measureAgain = {
  open: 'Measure again',
  openLabel: (n: number) => `Measure again: bench ${f.number(n)}`,
  title: (n: number) => `Measure again: bench ${f.number(n)}`,
  says: 'If the settings of this bench were wrong, put them right on the page of the benches, copy them into the meet again, and measure its runs again from the pulses that are kept. It is a ruling: official results change by a numbered correction.',
  confirm: 'Measure them again',
  nothing: (n: number) =>
    `${f.plural(n, { one: 'One run of this bench was looked at', other: '# runs of this bench were looked at' })}: none would change.`,
  some: (n: number, of: number) =>
    of === 1 ? 'The one run of this bench would change.' : `${f.number(n)} of ${f.number(of)} runs would change.`,
  changes: 'What would change',
  noCar: 'A run of no car',
  was: 'Now',
  wouldBe: 'Measured again',
};
