import type { Schema } from '$lib/api';

type Board = Pick<Schema['PracticeBoard'], 'runs'>;

/** Pair is two benches on which one car has run. */
export interface Pair {
  bench: string;
  other_bench: string;
  numbers: [number, number];
}

/** carsBeside are the cars of the newest runs but one, by number. */
export const carsBeside = (board: Board, number: number): number[] =>
  [...new Set(board.runs.map((run) => run.car_number))]
    .filter((car): car is number => car !== undefined && car !== number)
    .sort((a, b) => a - b);

/** pairsOfBenches are the pairs of benches among the newest runs of a car, by the numbers on their plates. */
export function pairsOfBenches(board: Board, number: number): Pair[] {
  const ids = new Map<number, string>();
  for (const run of board.runs)
    if (run.car_number === number && run.bench_number !== undefined) ids.set(run.bench_number, run.bench);
  const benches = [...ids].sort(([a], [b]) => a - b);
  return benches.flatMap(([first, bench], i) =>
    benches.slice(i + 1).map(([second, other_bench]): Pair => ({ bench, other_bench, numbers: [first, second] })),
  );
}
