import type { Schema } from '$lib/api';
import { expect, test } from 'vitest';
import { fewest, longNotRun, reportOf } from './report';

const session = {
  id: 's',
  cars: [
    {
      car_number: 7,
      runs: 3,
      last: { id: 'c', at: '2027-04-17T10:20:00Z', distance_m: 101 },
      best: { id: 'a', distance_m: 110 },
    },
    { car_number: 9, runs: 1, last: { id: 'd', at: '2027-04-17T10:02:00Z', distance_m: 90 } },
    { car_number: 12, runs: 1 },
  ],
} as unknown as Schema['PracticeSession'];
const run = (
  id: string,
  car_number: number,
  at: string,
  distance_m: number,
  more: Partial<Schema['PracticeRun']> = {},
) =>
  ({
    id,
    bench: 'b1',
    session: 's',
    car_number,
    at: `2027-04-17T10:${at}:00Z`,
    figures: { distance_m },
    ...more,
  }) as Schema['PracticeRun'];

test('the leader sees runs, builds and how far guesses were off, of that session alone', () => {
  const rows = reportOf(session, [
    run('c', 7, '20', 101, { state: 2, guess_m: 104.4 }),
    run('b', 7, '10', 100, { state: 1, short: true, guess_m: 500 }),
    run('a', 7, '05', 110, { state: 1, guess_m: 90 }),
    run('x', 7, '01', 300, { session: 'other', guess_m: 1 }),
  ]);
  expect(rows[0]).toEqual({
    car: 7,
    runs: 3,
    lastM: 101,
    bestM: 110,
    lastAt: '2027-04-17T10:20:00Z',
    builds: 2,
    off: [20, 3],
  });
  expect(fewest(rows)).toEqual([9, 12]);
  expect(fewest(rows.slice(1))).toEqual([]);
  // 10:21: car 9 ran nineteen minutes ago, car 12 not yet.
  expect(longNotRun(rows, Date.parse('2027-04-17T10:21:00Z'))).toEqual([9]);
});
