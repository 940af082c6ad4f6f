import type { Schema } from '$lib/api';

/** Lesson is one of the three that are ready. */
export type Lesson = 'sure' | 'pack' | 'gear';

/** The lessons in the order in which they build on one another. */
export const lessons: Lesson[] = ['sure', 'pack', 'gear'];

/** How many runs a car makes in each: four and the one that is guessed; old, fresh, fresh, old; twice each, in turn. */
export const runsOf: Record<Lesson, number> = { sure: 5, pack: 4, gear: 4 };

/** Minutes of a lesson at the benches; beside them are five to ask, five to guess and five to talk. */
export const benchMinutes = 30;

/** What a bench needs from one run to the next beside the run, in s: a turn of two runs of 15 s takes about 90 s. */
const betweenS = 30;

/** Who is there. */
export interface There {
  children: number;
  benches: number;
  raceS: number;
}

/** Fit is how a lesson goes with who is there. */
export interface Fit {
  /** How many children share a car. */
  share: number;
  cars: number;
  runsACar: number;
}

/** runsIn is how many runs the benches make together in the time of a lesson. */
export const runsIn = ({ benches, raceS }: There): number =>
  benches * Math.floor((benchMinutes * 60) / (raceS + betweenS));

/**
 * fitOf shares cars among as few children as the benches allow, four at most; undefined where even four a car are too
 * many for the time.
 */
export function fitOf(lesson: Lesson, there: There): Fit | undefined {
  if (there.children < 1 || there.benches < 1 || !(there.raceS > 0)) return undefined;
  for (let share = 1; share <= 4; share++) {
    const cars = Math.ceil(there.children / share);
    const runsACar = Math.floor(runsIn(there) / cars);
    if (runsACar >= runsOf[lesson]) return { share, cars, runsACar };
  }
  return undefined;
}

/** Scatter is by how much like runs of a car differ, as a standard deviation. */
export interface Scatter {
  /** Of the distance: 0.003 is 0.3 %. */
  relative: number;
  /** Whether it is the club's own, of so many degrees of freedom; else it is what is usual. */
  degrees: number;
}

/** What like runs differ by where the club has not shown it yet (common practice). */
export const usualScatter: Scatter = { relative: 0.003, degrees: 0 };

/** So many degrees of freedom say more than what is usual. */
const leastDegrees = 10;

/** scatterOf pools what runs of one car in one fitting, session and length differ by. */
export function scatterOf(runs: readonly Schema['PracticeRun'][]): Scatter {
  const groups = new Map<string, number[]>();
  for (const run of runs) {
    if (run.short || run.dropped || !run.session || run.car_number === undefined || !(run.figures.distance_m > 0))
      continue;
    const key = [run.car_number, run.session, run.bench, run.race_s, run.state, run.fitting].join();
    groups.set(key, [...(groups.get(key) ?? []), run.figures.distance_m]);
  }
  let squares = 0;
  let degrees = 0;
  for (const metres of groups.values()) {
    const mean = metres.reduce((sum, one) => sum + one, 0) / metres.length;
    squares += metres.reduce((sum, one) => sum + (one / mean - 1) ** 2, 0);
    degrees += metres.length - 1;
  }
  return degrees < leastDegrees ? usualScatter : { relative: Math.sqrt(squares / degrees), degrees };
}

/**
 * insideOf is of how many cars a fifth run lies between the least and the most of four before it, where nothing was
 * changed: of n + 1 like runs in any order the last is as likely at each place, so (n - 1) of (n + 1) lie inside,
 * whatever the runs scatter by (common knowledge of order statistics).
 */
export const insideOf = (cars: number, before = 4): number => (cars * (before - 1)) / (before + 1);

/**
 * Runs of each of two builds to see a change of 1 % four times of five, at 5 %, by the repeat scatter in %: two groups,
 * two sides, noncentral t (computed with scipy).
 */
const neededAtOnePercent: readonly [number, number][] = [
  [0.3, 3],
  [0.5, 6],
  [1, 17],
];

/** neededFor is how many runs of each build show a change of 1 %; undefined where more than seventeen are needed. */
export const neededFor = ({ relative }: Scatter): number | undefined =>
  neededAtOnePercent.find(([percent]) => relative * 100 <= percent + 1e-9)?.[1];
