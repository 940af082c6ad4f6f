import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { choices, differenceOf, marksOf, speedOf, unequal } from './curve';

const sample = (at_s: number, speed_mps: number) => ({ at_s, speed_mps, rpm: 0 });

test('speedOf is in km/h, and broken where nothing was known', () => {
  expect(speedOf({ every_s: 1, samples: [sample(0, 1), sample(1, 2), sample(6, 3)] }, 'Puffin')).toEqual({
    name: 'Puffin',
    xs: [0, 1, 3.5, 6],
    ys: [3.6, 7.2, null, 10.8],
  });
});

test('marksOf a run are its ends, its full speed and what was put right', () => {
  const conditions = { start_source: 'bench_clock' } as Schema['RunConditions'];
  const marks = marksOf({
    conditions,
    to_s: 60,
    full_speed: { speed_mps: 4, at_s: 2 },
    corrections: [{ at_s: 3, kind: 'extra' }],
  });
  expect(marks.map((m) => [m.at, m.sign])).toEqual([
    [0, 'line'],
    [2, 'line'],
    [60, 'line'],
    [3, 'triangle'],
  ]);
  expect(marksOf({ corrections: [] })).toEqual([]);
});

test('differenceOf runs where both have a speed', () => {
  const a = { name: 'a', xs: [0, 1, 2, 3, 4], ys: [5, 6, null, 8, 9] };
  const b = { name: 'b', xs: [1, 3], ys: [5, 5] };
  expect(differenceOf(a, b, 'a less b')).toEqual({ name: 'a less b', xs: [1, 2, 3, 4], ys: [1, null, 3, null] });
});

describe('choices', () => {
  const run = (id: string, entry?: string, trace = 'x') =>
    ({ id, trace, ...(entry && { racer: { entry, start_number: 1 } }) }) as Schema['Run'];
  test('the same car comes first, and what has no stamps is left out', () => {
    const runs = [run('a', 'e1'), run('b', 'e2'), run('c', 'e1'), run('d', 'e1', ''), run('e')];
    expect(choices(runs, runs[0]!, (r) => r.id).map((c) => [c.id, c.sameCar])).toEqual([
      ['c', true],
      ['b', false],
      ['e', false],
    ]);
  });
});

test('runs of other lengths do not compare by distance', () => {
  expect(unequal({ to_s: 60 }, { to_s: 30 })).toBe(true);
  expect(unequal({ to_s: 60 }, { to_s: 60.01 })).toBe(false);
  expect(unequal({}, { to_s: 60 })).toBe(false);
});
