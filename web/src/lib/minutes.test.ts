import { expect, test } from 'vitest';
import { behindMinutes } from './minutes';

test('how far the day is behind the end that was told, and ahead of it', () => {
  const told = { at: '2027-04-17T09:00:00Z', finish: '2027-04-17T16:15:00Z' };
  expect(behindMinutes({ finish: '2027-04-17T16:27:10Z', told })).toBe(12);
  expect(behindMinutes({ finish: '2027-04-17T16:08:00Z', told })).toBe(-7);
  expect(behindMinutes({ finish: told.finish })).toBeUndefined();
  expect(behindMinutes({ told })).toBeUndefined();
  expect(behindMinutes({ finish: told.finish, told: { at: told.at } })).toBeUndefined();
});
