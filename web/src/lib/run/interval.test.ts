import { expect, test } from 'vitest';
import { between } from './interval';

const run = { distance_m: 200, u_distance_m: 0.05 };

test('± says it where the interval lies evenly about the distance', () => {
  expect(between(run)).toBeUndefined();
});

test('a lopsided interval is told by its ends', () => {
  expect(between({ ...run, distance_low_m: 199.94, distance_high_m: 205.04 })).toMatch(/between 199\.9 and 205\.0 m/);
});

test('where none can be stated, that is said', () => {
  const flags = [{ code: 'no-interval', says: '' }];
  expect(between({ distance_m: 200, flags })).toMatch(/nobody can say/);
});
