import type { Schema } from '$lib/api';

/** Row is what a leader sees of a car after an afternoon. */
export interface Row {
  car: number;
  runs: number;
  lastM: number | undefined;
  bestM: number | undefined;
  lastAt: string | undefined;
  /** How many builds it ran in. */
  builds: number;
  /** How far its guesses were off, in whole metres, oldest first. */
  off: number[];
}

/** reportOf has a row for each car of a session, by number. */
export function reportOf(session: Schema['PracticeSession'], runs: readonly Schema['PracticeRun'][]): Row[] {
  return session.cars.map((one) => {
    const mine = runs.filter(
      (run) => run.session === session.id && run.car_number === one.car_number && !run.short && !run.dropped,
    );
    return {
      car: one.car_number,
      runs: one.runs,
      lastM: one.last?.distance_m,
      bestM: one.best?.distance_m,
      lastAt: one.last?.at,
      builds: new Set(mine.map((run) => run.state ?? 0)).size,
      off: mine
        .filter((run) => run.guess_m !== undefined)
        .sort((a, b) => a.at.localeCompare(b.at))
        .map((run) => Math.round(Math.abs(run.guess_m! - run.figures.distance_m))),
    };
  });
}

/** fewest are the cars that had fewest runs; none where all had as many. */
export function fewest(rows: readonly Row[]): number[] {
  const least = Math.min(...rows.map((row) => row.runs));
  const few = rows.filter((row) => row.runs === least).map((row) => row.car);
  return few.length === rows.length ? [] : few;
}

/** So long a child waits before its leader should look, in ms. */
const longMs = 15 * 60_000;

/** longNotRun are the cars that have run, but not for a quarter of an hour at an instant in ms. */
export const longNotRun = (rows: readonly Row[], now: number): number[] =>
  rows.filter((row) => row.lastAt !== undefined && now - Date.parse(row.lastAt) > longMs).map((row) => row.car);
