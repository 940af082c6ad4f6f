import { expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { fromOther } from '$lib/practice/verdict';
import { carsBeside, pairsOfBenches } from './beside';

const run = (car_number: number | undefined, bench_number: number) =>
  ({ car_number, bench: `b${bench_number}`, bench_number }) as Schema['PracticeRun'];

test('who can be beside a car, and the benches that it ran on', () => {
  const board = { runs: [run(12, 1), run(7, 3), run(undefined, 1), run(9, 2), run(7, 1), run(7, 3), run(12, 2)] };
  expect(carsBeside(board, 7)).toEqual([9, 12]);
  expect(pairsOfBenches(board, 7)).toEqual([{ bench: 'b1', other_bench: 'b3', numbers: [1, 3] }]);
  expect(pairsOfBenches(board, 9)).toEqual([]);
});

test('a fifth less is a quarter more from the other side', () => {
  const back = fromOther({ change: -0.2, low: -0.5, high: 0 });
  expect(back.change).toBeCloseTo(0.25, 12);
  expect(back.low).toBeCloseTo(0, 12);
  expect(back.high).toBeCloseTo(1, 12);
});
