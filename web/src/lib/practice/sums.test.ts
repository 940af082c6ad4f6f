import type { Schema } from '$lib/api';
import { expect, test } from 'vitest';
import { sumsOf } from './sums';

const compared = (runs: [number, number][]) =>
  ({
    from: 1,
    to: 2,
    runs: runs.map(([state, distance_m]) => ({ state, distance_m, counts: true })),
    effects: [],
  }) as unknown as Schema['CarCompared'];

test('each sum follows from the figures that are written', () => {
  const sums = sumsOf(
    compared([
      [1, 119.04],
      [1, 119.26],
      [2, 121.13],
      [2, 121.09],
      [1, 119.11],
    ]),
  )!;
  // 119.0 + 119.3 + 119.1 = 357.4; ÷ 3 = 119.13. 121.1 + 121.1 = 242.2; ÷ 2 = 121.1.
  expect(sums.before).toEqual({ state: 1, metres: [119, 119.3, 119.1], sum: 357.4, mean: 119.13, apart: 0.3 });
  expect(sums.after).toEqual({ state: 2, metres: [121.1, 121.1], sum: 242.2, mean: 121.1, apart: 0 });
  // 121.1 − 119.13 = 1.97; ÷ 119.13 × 100 = 1.65.
  expect([sums.more, sums.percent]).toEqual([1.97, 1.65]);
});

test('one build alone has nothing to compare', () => {
  expect(sumsOf(compared([[1, 100]]))).toBeUndefined();
});
