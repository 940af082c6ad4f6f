import type { Schema } from '$lib/api';
import { expect, test } from 'vitest';
import { guessErrors, lateSteps, storyOf } from './life';

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

test('a change that came late is told with the runs that went over to it', () => {
  const at = (minute: number) => `2027-04-17T10:${minute}:00Z`;
  const steps = [
    { state: 1, fitting: 1, at: at(10) },
    { state: 2, fitting: 2, at: at(20), came: at(40) },
    { state: 1, fitting: 3, at: at(50), came: at(51) },
  ];
  const runs = [
    run(11, { state: 1, fitting: 1 }),
    run(21, { state: 2, fitting: 2, restated: true }),
    run(22, { state: 2, fitting: 2, restated: true, counts: false }),
    run(41, { state: 2, fitting: 2 }),
    run(52, { state: 1, fitting: 3 }),
  ];
  expect(lateSteps({ steps, runs })).toEqual([{ state: 2, at: at(20), came: at(40), runs: 2 }]);
});
