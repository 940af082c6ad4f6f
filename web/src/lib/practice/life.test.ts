import type { Schema } from '$lib/api';
import { expect, test } from 'vitest';
import { guessErrors, storyOf } from './life';

const run = (n: number, more: Partial<Schema['LifeRun']> = {}): Schema['LifeRun'] => ({
  id: `r${n}`,
  at: `2027-04-17T10:${String(n).padStart(2, '0')}:00Z`,
  race_s: 20,
  distance_m: 100 + n,
  counts: true,
  ...more,
});

test('what was changed and changed back stands as three bands', () => {
  const runs = [
    run(0, { state: 1, fitting: 1 }),
    run(1, { state: 1, fitting: 1 }),
    run(2, { state: 2, fitting: 2 }),
    run(3, { counts: false, short: true, state: 2, fitting: 2 }),
    run(4, { state: 2, fitting: 2 }),
    run(5, { state: 1, fitting: 3 }),
  ];
  const story = storyOf({ runs, best: runs[4]! });
  expect(story.bands).toEqual([
    { state: 1, fitting: 1, from: 0, to: 1 },
    { state: 2, fitting: 2, from: 2, to: 3 },
    { state: 1, fitting: 3, from: 4, to: 4 },
  ]);
  expect(story.points.map((one) => one.run.id)).toEqual(['r0', 'r1', 'r2', 'r4', 'r5']);
  expect(story.points.map((one) => one.best)).toEqual([false, false, false, true, false]);
});

test('runs of several lengths stand in one picture by their mean speed', () => {
  const story = storyOf({
    runs: [run(0, { distance_m: 240 }), run(1, { race_s: 60, distance_m: 690 }), run(2, { race_s: 0 })],
  });
  expect(story.points.map((one) => one.mps)).toEqual([12, 11.5]);
});

test('guesses of runs that count are held against what came', () => {
  expect(
    guessErrors([run(0, { guess_m: 90 }), run(1), run(2, { guess_m: 104 }), run(3, { guess_m: 1, counts: false })]),
  ).toEqual([10, 2]);
});
