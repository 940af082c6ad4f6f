import type { Schema } from '$lib/api';
import { expect, test } from 'vitest';
import { fitOf, insideOf, neededFor, runsIn, scatterOf, usualScatter } from './lessons';

test('ten children with one bench share, with three each has a car', () => {
  // 30 minutes of runs of 15 s with 30 s between them are 40 runs a bench.
  expect(runsIn({ children: 10, benches: 1, raceS: 15 })).toBe(40);
  expect(fitOf('sure', { children: 10, benches: 1, raceS: 15 })).toEqual({ share: 2, cars: 5, runsACar: 8 });
  expect(fitOf('pack', { children: 10, benches: 1, raceS: 15 })).toEqual({ share: 1, cars: 10, runsACar: 4 });
  expect(fitOf('sure', { children: 10, benches: 3, raceS: 15 })).toEqual({ share: 1, cars: 10, runsACar: 12 });
  expect(fitOf('gear', { children: 7, benches: 1, raceS: 60 })).toEqual({ share: 2, cars: 4, runsACar: 5 });
});

test('where even four to a car are too many the page has to say so', () => {
  expect(fitOf('sure', { children: 30, benches: 1, raceS: 60 })).toBeUndefined();
  expect(fitOf('sure', { children: 0, benches: 1, raceS: 20 })).toBeUndefined();
});

const run = (car_number: number, distance_m: number, more: Partial<Schema['PracticeRun']> = {}) =>
  ({
    id: '',
    bench: 'b1',
    at: '',
    session: 's',
    race_s: 20,
    car_number,
    figures: { distance_m },
    ...more,
  }) as Schema['PracticeRun'];

test('like runs alone are pooled, each about the mean of its own', () => {
  // Six cars of three runs at 99, 100 and 101 %: 12 degrees of freedom, and a scatter of just 1 %.
  const runs = [100, 120, 150, 180, 200, 240].flatMap((m, car) => [0.99, 1, 1.01].map((by) => run(car, m * by)));
  const odd = [
    run(1, 5, { short: true }),
    run(2, 7, { dropped: 'helped' }),
    run(3, 9, { fitting: 2 }),
    run(4, 9, { race_s: 10 }),
  ];
  const { relative, degrees } = scatterOf([...runs, ...odd]);
  expect(relative).toBeCloseTo(0.01, 12);
  expect(degrees).toBe(12);
  expect(scatterOf(runs.slice(0, 9))).toBe(usualScatter);
});

test('what to expect', () => {
  // Three of five lie inside (order statistics of exchangeable runs).
  expect(insideOf(10)).toBe(6);
  expect([0.002, 0.003, 0.0031, 0.005, 0.009, 0.02].map((relative) => neededFor({ relative, degrees: 20 }))).toEqual([
    3,
    3,
    6,
    6,
    17,
    undefined,
  ]);
});
