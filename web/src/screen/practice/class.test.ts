import type { Schema } from '$lib/api';
import { expect, test } from 'vitest';
import { cloudOf } from './class';

const point = (code: string, speed_mps: number, more: Partial<Schema['ClassPoint']> = {}): Schema['ClassPoint'] => ({
  code,
  speed_mps,
  runs: 1,
  ...more,
});

test('points stand by what they are held against, in km/h, and only where that is noted', () => {
  const points = [
    point('A', 10, { ratio: 4 }),
    point('B', 12.5, { ratio: 3.2, volts: 2.4 }),
    point('C', 11),
    point('D', 9, { ratio: 5, volts: 2.4 }),
  ];
  expect(cloudOf(points, 'ratio')).toEqual({ xs: [3.2, 4, 5], kmh: [45, 36, 32.4], codes: ['B', 'A', 'D'] });
});

test('where all are alike, or two are noted, there is nothing to see', () => {
  const alike = ['A', 'B', 'C'].map((code) => point(code, 10, { volts: 2.4 }));
  expect(cloudOf(alike, 'volts')).toBeUndefined();
  expect(cloudOf([point('A', 1, { mass_g: 1 }), point('B', 1, { mass_g: 2 })], 'mass_g')).toBeUndefined();
  expect(cloudOf([], 'wheel_mm')).toBeUndefined();
});
