import { describe, expect, test } from 'vitest';
import { beyond, decimalsOf, ticksOf, valuesOf, type Line } from './rows';

describe('ticks', () => {
  const cases: [name: string, values: number[], ticks: number[]][] = [
    ['around zero', [-1.2, 2.9], [-2, -1, 0, 1, 2, 3]],
    ['all above', [1.8], [0, 0.5, 1, 1.5, 2]],
    ['nothing but zero', [0], [-1, -0.5, 0, 0.5, 1]],
    ['far', [-120, 30], [-150, -100, -50, 0, 50]],
    ['what is not known counts for nothing', [NaN, 3, Infinity], [0, 0.5, 1, 1.5, 2, 2.5, 3]],
  ];
  test.each(cases)('%s', (_, values, ticks) =>
    expect(ticksOf(values).map((n) => Number(n.toFixed(9)) || 0)).toEqual(ticks),
  );

  test('always cover the values', () => {
    for (let n = 1; n < 200; n++) {
      const values = [-n * 0.37, n * 1.13];
      const ticks = ticksOf(values);
      expect(ticks[0]!).toBeLessThanOrEqual(values[0]!);
      expect(ticks.at(-1)!).toBeGreaterThanOrEqual(values[1]!);
      expect(ticks.length).toBeLessThanOrEqual(9);
    }
  });

  test('are written with as many decimals as they need', () => {
    expect(decimalsOf([0, 0.5, 1])).toBe(1);
    expect(decimalsOf([0, 10])).toBe(0);
    expect(decimalsOf([0, 0.02])).toBe(2);
  });
});

test('the outermost line that a value passes', () => {
  const lines: Line[] = [
    { at: 0, name: 'zero', kind: 'zero' },
    { at: 1, name: '5 %', kind: 'inner' },
    { at: 2, name: '1 %', kind: 'outer' },
    { at: -1, name: '5 %', kind: 'inner' },
  ];
  expect([0.5, 1.5, 2.5, -1.5, -0.5, undefined].map((v) => beyond(v, lines)?.name)).toEqual([
    undefined,
    '5 %',
    '1 %',
    '5 %',
    undefined,
    undefined,
  ]);
  expect(valuesOf([{ bench: 1, value: 3, low: 2, high: undefined }], lines)).toEqual([3, 2, 0, 1, 2, -1]);
});
