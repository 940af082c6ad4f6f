import { expect, test } from 'vitest';
import { dayOf } from './day';

test('a day is short, and that of the clock on the wall', () => {
  expect(dayOf(new Date(2027, 3, 17, 23, 59), 'en-GB')).toBe('17 Apr 2027');
  expect(dayOf(new Date(2027, 3, 17, 0, 1), 'de')).toBe('17.04.2027');
});
