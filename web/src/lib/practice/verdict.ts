import type { Schema } from '$lib/api';

type Life = Schema['CarLife'];
type Compared = Schema['CarCompared'];

/**
 * toCompare is the pair of builds that people wonder about: the build that the car runs in now, and the one that it
 * ran in before; undefined where only one has run.
 */
export function toCompare(life: Pick<Life, 'runs'>): { from: number; to: number } | undefined {
  const ran = life.runs.filter((run) => run.counts).map((run) => run.state ?? 0);
  const to = ran.at(-1);
  const from = ran.findLast((state) => state !== to);
  return to === undefined || from === undefined ? undefined : { from, to };
}

/** Row is the dots of one build: metres of its runs, oldest first. */
export interface Row {
  state: number;
  metres: number[];
}

/** rowsOf are the two rows of dots of a comparison, the earlier build first. */
export const rowsOf = (of: Compared): Row[] =>
  [of.from, of.to].map((state) => ({
    state,
    metres: of.runs.filter((run) => (run.state ?? 0) === state).map((run) => run.distance_m),
  }));

/** Percent is a relative change with one digit after the point, and two where one would say nothing. */
export function percents(change: number, low: number, high: number): { decimals: number; values: number[] } {
  const values = [change, low, high].map((one) => one * 100);
  const decimals = Math.abs(values[2]! - values[1]!) < 0.2 ? 2 : 1;
  return { decimals, values };
}

/** fromOther turns a change of the second against the first into one of the first against the second. */
export const fromOther = ({ change, low, high }: { change: number; low: number; high: number }) => ({
  change: 1 / (1 + change) - 1,
  low: 1 / (1 + high) - 1,
  high: 1 / (1 + low) - 1,
});

/** moreM is about how many metres more the later build goes, from the relative change of the distance. */
export function moreM(of: Compared): number {
  const before = rowsOf(of)[0]!.metres;
  const mean = before.reduce((sum, one) => sum + one, 0) / Math.max(1, before.length);
  return mean * (of.effects[0]?.change ?? 0);
}
