import type { Schema } from '$lib/api';
import { expect, test } from 'vitest';
import { moreM, percents, rowsOf, toCompare } from './verdict';

const run = (state: number | undefined, distance_m: number, counts = true) =>
  ({
    id: `${state}-${distance_m}`,
    at: '',
    counts,
    distance_m,
    ...(state !== undefined && { state }),
  }) as Schema['LifeRun'];

test('the build of now is held against the one that ran before it', () => {
  expect(toCompare({ runs: [run(1, 100), run(2, 101), run(2, 102), run(1, 100)] })).toEqual({ from: 2, to: 1 });
  expect(toCompare({ runs: [run(undefined, 100), run(1, 101)] })).toEqual({ from: 0, to: 1 });
  expect(toCompare({ runs: [run(1, 100), run(2, 101, false)] })).toBeUndefined();
  expect(toCompare({ runs: [] })).toBeUndefined();
});

test('two rows of dots and about how many metres', () => {
  const of = {
    from: 1,
    to: 2,
    runs: [run(1, 99), run(2, 103), run(1, 101)],
    effects: [{ effect: 'distance', change: 0.03 }],
  } as unknown as Schema['CarCompared'];
  expect(rowsOf(of)).toEqual([
    { state: 1, metres: [99, 101] },
    { state: 2, metres: [103] },
  ]);
  expect(moreM(of)).toBeCloseTo(3, 9);
});

test('an interval narrower than a fifth of a percent gets one digit more', () => {
  expect(percents(0.017, 0.015, 0.019)).toMatchObject({ decimals: 1 });
  expect(percents(0.0171, 0.0165, 0.0177).decimals).toBe(2);
});
