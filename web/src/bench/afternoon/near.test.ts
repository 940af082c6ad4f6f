import type { Schema } from '$lib/api';
import { expect, test } from 'vitest';
import { heldTo, lastRun, nearCars, todaysCars } from './near';

const run = (n: number, car_number: number, distance_m = 100, more: Partial<Schema['PracticeRun']> = {}) =>
  ({
    id: `r${n}`,
    bench: 'b1',
    session: 's',
    race_s: 20,
    at: `2027-04-17T10:0${n}:00Z`,
    car_number,
    figures: { distance_m },
    ...more,
  }) as Schema['PracticeRun'];
const queued = (car_number: number) => ({ car_number, place: 1, about_s: 0, runs: 0 });
const session = {
  id: 's',
  benches: [{ bench: 'b1', armed: { run: 'r9', car_number: 4, race_s: 20, at: '', guessed: false } }],
  queue: [5, 6, 7, 8].map(queued),
  cars: [
    { car_number: 12, runs: 1 },
    { car_number: 3, runs: 1 },
  ],
} as unknown as Schema['PracticeSession'];

test('a run goes to one of the last three or next three cars', () => {
  const runs = [run(5, 12), run(4, 12), run(3, 3), run(2, 9), run(1, 2), run(0, 1)];
  expect(nearCars(runs, 'b1', session, runs[0]!)).toEqual([3, 9, 2, 4, 5, 6]);
  // Of this bench and session alone.
  expect(
    nearCars([run(5, 12), run(4, 3, 1, { bench: 'b2' }), run(3, 9, 1, { session: 'x' })], 'b1', session, run(5, 12)),
  ).toEqual([4, 5, 6]);
});

test('cars of the afternoon stand once, by number', () => {
  expect(todaysCars(session)).toEqual([3, 5, 6, 7, 8, 12]);
});

test('a run is held against the car’s own farthest, and only once the session has it', () => {
  const held = (runs: number, last: string, best: string) =>
    heldTo(
      {
        ...session,
        cars: [{ car_number: 12, runs, last: { id: last }, best: { id: best, distance_m: 140 } }],
      } as never,
      run(5, 12),
    );
  expect(held(1, 'r5', 'r5')).toEqual({ is: 'first' });
  expect(held(4, 'r5', 'r5')).toEqual({ is: 'best' });
  expect(held(4, 'r5', 'r2')).toEqual({ is: 'behind', bestM: 140 });
  // Never two numbers that look alike, one of them "farther".
  expect(
    heldTo(
      {
        ...session,
        cars: [{ car_number: 12, runs: 2, last: { id: 'r5' }, best: { id: 'r2', distance_m: 200.4 } }],
      } as never,
      run(5, 12, 199.6),
    ),
  ).toEqual({ is: 'level' });
  expect(held(4, 'r4', 'r4')).toBeUndefined();
  expect(heldTo(session, run(5, 3))).toBeUndefined();
  expect(heldTo(session, run(5, 12, 2, { short: true }))).toEqual({ is: 'no-run', short: true });
  expect(heldTo(session, run(5, 12, 2, { dropped: 'helped' }))).toEqual({ is: 'no-run', short: false });
  const now = run(5, 12);
  expect(lastRun([run(5, 12, 1, { bench: 'b2' }), now], 'b1', 's')).toBe(now);
});
