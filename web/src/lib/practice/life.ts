import type { Schema } from '$lib/api';

type Life = Schema['CarLife'];
type LifeRun = Schema['LifeRun'];

/** Point is a run that counts, at its place in the row of runs. */
export interface Point {
  run: LifeRun;
  /** From 0, the oldest first. */
  nth: number;
  /** Metres in one second: runs of several lengths stand in one picture. */
  mps: number;
  best: boolean;
}

/** Band is a row of runs in one fitting of one state. */
export interface Band {
  state: number;
  fitting: number;
  /** The first and the last of its points. */
  from: number;
  to: number;
}

/** Story is the life of a car as a picture needs it. */
export interface Story {
  points: Point[];
  bands: Band[];
}

/** lengthOf is how long a run was asked to last in s; undefined where nobody asked. */
const lengthOf = (run: LifeRun) => (run.race_s && run.race_s > 0 ? run.race_s : undefined);

/**
 * storyOf takes the runs that count, as long as their length is known, in the order in which they were made. Only a
 * row of runs of the same fitting is one band: what was changed and changed back stands twice.
 */
export function storyOf(life: Pick<Life, 'runs' | 'best'>): Story {
  const counted = life.runs.filter((run) => run.counts && lengthOf(run) !== undefined);
  const points = counted.map((run, nth) => ({
    run,
    nth,
    mps: run.distance_m / lengthOf(run)!,
    best: run.id === life.best?.id,
  }));
  const bands: Band[] = [];
  for (const { run, nth } of points) {
    const [state, fitting] = [run.state ?? 0, run.fitting ?? 0];
    const last = bands.at(-1);
    if (last && last.state === state && last.fitting === fitting) last.to = nth;
    else bands.push({ state, fitting, from: nth, to: nth });
  }
  return { points, bands };
}

/** LateStep is a change that came to the server after runs which are of it. */
export interface LateStep {
  state: number;
  /** When it was noted, and when it came. */
  at: string;
  came: string;
  runs: number;
}

/** lateSteps are the changes that moved runs to another state, oldest first. */
export function lateSteps(life: Pick<Life, 'runs' | 'steps'>): LateStep[] {
  return life.steps.flatMap(({ state, fitting, at, came }) => {
    const runs = life.runs.filter((run) => run.restated && run.fitting === fitting).length;
    return came !== undefined && runs > 0 ? [{ state, at, came, runs }] : [];
  });
}

/** guessErrors are how far the guesses of a car were off, in m, oldest first: they get smaller as a child learns. */
export const guessErrors = (runs: readonly LifeRun[]): number[] =>
  runs.filter((run) => run.counts && run.guess_m !== undefined).map((run) => Math.abs(run.guess_m! - run.distance_m));
