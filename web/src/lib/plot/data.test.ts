import { describe, expect, test } from 'vitest';
import {
  aligned,
  byText,
  decimalsOf,
  near,
  rows,
  stops,
  stretchX,
  stretchY,
  ticks,
  valueAt,
  type Series,
} from './data';

const line: Series = { name: 'a', xs: [0, 1, 2, 4], ys: [0, 10, null, 40] };
const points: Series = { name: 'p', xs: [3, 4, 4], ys: [7, 8, 9], points: true, labels: ['x', 'y', 'z'] };

describe('valueAt', () => {
  const cases: [x: number, want: number | null][] = [
    [-1, null],
    [0, 0],
    [0.25, 2.5],
    [1.5, null],
    [2, null],
    [3, null],
    [4, 40],
    [5, null],
  ];
  test.each(cases)('%f', (x, want) => expect(valueAt(line, x)).toBe(want));
  test('points are not joined', () => expect(valueAt(points, 3.5)).toBeNull());
});

test('stretches: room above and below, nought where wanted, and never of no length', () => {
  expect(stretchX([line], [{ at: 9, text: '', sign: 'line' }])).toEqual({ min: 0, max: 9 });
  expect(stretchX([])).toEqual({ min: 0, max: 1 });
  expect(stretchY([{ ...line, ys: [10, 20, 20, 20] }], { name: '', decimals: 0 })).toEqual({ min: 9.2, max: 20.8 });
  expect(stretchY([{ ...line, ys: [10, 20, 20, 20] }], { name: '', decimals: 0, fromZero: true })).toEqual({
    min: 0,
    max: 21.6,
  });
  expect(stretchY([{ ...line, ys: [-10, -20, null, 0] }], { name: '', decimals: 0, fromZero: true })).toEqual({
    min: -21.6,
    max: 0,
  });
  expect(stretchX([{ ...points, xs: [0, 50, 100] }])).toEqual({ min: -4, max: 104 });
  expect(stretchY([{ ...line, ys: [5, 5, 5, 5] }], { name: '', decimals: 0 })).toEqual({ min: 4.5, max: 5.5 });
});

test("aligned tells another series' x from a gap", () => {
  expect(aligned([line, { name: 'b', xs: [1, 3], ys: [5, 6] }])).toEqual([
    [0, 1, 2, 3, 4],
    [0, 10, null, undefined, 40],
    [undefined, 5, undefined, 6, undefined],
  ]);
});

describe('ticks', () => {
  const cases: [min: number, max: number, want: number[], decimals: number][] = [
    [0, 10, [0, 2, 4, 6, 8, 10], 0],
    [0, 1, [0, 0.2, 0.4, 0.6, 0.8, 1], 1],
    [-3, 3, [-3, -2, -1, 0, 1, 2, 3], 0],
    [1.02, 1.07, [1.02, 1.03, 1.04, 1.05, 1.06, 1.07], 2],
    [0, 3600, [0, 1000, 2000, 3000], 0],
  ];
  test.each(cases)('%f to %f', (min, max, want, decimals) => {
    const got = ticks({ min, max });
    expect(got).toEqual(want);
    expect(decimalsOf(got)).toBe(decimals);
  });
  test('races are whole', () => expect(ticks({ min: 0.9, max: 3.1 }, 8, 0)).toEqual([1, 2, 3]));
  test('of nothing is one', () => expect(ticks({ min: 2, max: 2 })).toEqual([2]));
});

test('rows of lines are round places, of points all of them', () => {
  expect(rows([line], 4)).toEqual([
    { x: 0, values: [0] },
    { x: 1, values: [10] },
    { x: 4, values: [40] },
  ]);
  expect(rows([points])).toEqual([
    { x: 3, label: 'x', values: [7] },
    { x: 4, label: 'y', values: [8] },
    { x: 4, label: 'z', values: [9] },
  ]);
});

test('stops keep both ends of a long run', () => {
  const long = { name: 'l', xs: Array.from({ length: 1000 }, (_, i) => i), ys: Array.from({ length: 1000 }, () => 1) };
  const at = stops([long]);
  expect(at.length).toBeLessThanOrEqual(401);
  expect([at[0], at.at(-1)]).toEqual([0, 999]);
  expect(near(at, 500.4)).toBe(at.findIndex((x) => x >= 499));
});

test('byText gathers marks', () => {
  expect(
    byText([
      { at: 3, text: 'filled', sign: 'diamond' },
      { at: 2, text: 'out', sign: 'triangle' },
      { at: 1, text: 'filled', sign: 'diamond' },
    ]),
  ).toEqual([
    { text: 'filled', sign: 'diamond', at: [1, 3] },
    { text: 'out', sign: 'triangle', at: [2] },
  ]);
});
