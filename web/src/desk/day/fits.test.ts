import { expect, test } from 'vitest';
import { fits } from './fits';

const car = { entry: 'e7', start_number: 7, display_name: 'Ölkännchen' };

test.each<[typed: string, is: boolean]>([
  ['', true],
  [' 7 ', true],
  ['3', true], // the bench
  ['17', false],
  ['77', false],
  ['ölk', true],
  ['KÄNN', true],
  ['semi', true], // the heat
  ['puffin', false],
])('“%s”', (typed, is) => {
  expect(fits(typed, car, 3, 'Juniors, semi-final')).toBe(is);
});

test('a run of nobody is found by its bench', () => {
  expect(fits('3', undefined, 3)).toBe(true);
  expect(fits('7', undefined, undefined)).toBe(false);
});
