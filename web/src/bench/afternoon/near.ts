import type { Schema } from '$lib/api';

type Session = Schema['PracticeSession'];
type Run = Schema['PracticeRun'];

/** How many cars before and after are offered for a run that stands under the wrong one. */
const near = 3;

/** nearCars are the last cars of a bench and the next of its queue, without the one that a run stands under. */
export function nearCars(runs: readonly Run[], bench: string, session: Session, run: Run): number[] {
  const before = runs.filter((one) => one.bench === bench && one.session === session.id).map((one) => one.car_number);
  const armed = session.benches.filter((one) => one.bench === bench).map((one) => one.armed?.car_number);
  const some = (numbers: (number | undefined)[], most: number) =>
    [...new Set(numbers)].filter((n): n is number => n !== undefined && n !== run.car_number).slice(0, most);
  const after = some([...armed, ...session.queue.map((one) => one.car_number)], near);
  return [...new Set([...some(before, near), ...after])];
}

/** todaysCars are the numbers of an afternoon, by number. */
export const todaysCars = (session: Session): number[] =>
  [...new Set([...session.cars, ...session.queue].map((one) => one.car_number))].sort((a, b) => a - b);

/** lastRun is the newest run of a session on a bench. */
export const lastRun = (runs: readonly Run[], bench: string, session: string): Run | undefined =>
  runs.find((one) => one.bench === bench && one.session === session);

/** Held is how a run lies to the farthest that its car has gone this afternoon, in runs as long. */
export type Held =
  | { is: 'no-run'; short: boolean }
  | { is: 'first' }
  | { is: 'best' }
  /** As far in whole metres, which is what is shown. */
  | { is: 'level' }
  | { is: 'behind'; bestM: number };

/** heldTo holds a run against the car's own best, as the session has it; undefined where that is not known yet. */
export function heldTo(session: Session, run: Run): Held | undefined {
  if (run.short || run.dropped) return { is: 'no-run', short: run.short === true };
  const of = session.cars.find((one) => one.car_number === run.car_number);
  if (!of?.best || of.last?.id !== run.id) return undefined;
  if (of.best.id !== run.id) {
    const bestM = of.best.distance_m;
    return Math.round(bestM) === Math.round(run.figures.distance_m) ? { is: 'level' } : { is: 'behind', bestM };
  }
  return of.runs > 1 ? { is: 'best' } : { is: 'first' };
}

/** How long a counter box that counts may say nothing, in ms, before somebody is told. */
export const silentMs = 3_000;
