import { expect, test } from 'vitest';
import { found, meant } from './find';

const cars = [
  { start_number: 1, display_name: 'Lantern' },
  { start_number: 12, display_name: 'Élan du Nord' },
  { start_number: 21 },
  { start_number: 120, display_name: 'The Unstoppable Otter' },
  { start_number: 130, display_name: 'Rocket 12' },
  { start_number: 140, display_name: 'Turbo-Otter' },
];
const numbers = (text: string) => found(cars, text).map((car) => car.start_number);

test.each([
  ['', [1, 12, 21, 120, 130, 140]],
  ['  ', [1, 12, 21, 120, 130, 140]],
  ['12', [12, 120, 130]],
  ['#012', [12, 120]],
  ['21', [21]],
  ['elan', [12]],
  ['NORD élan', [12]],
  ['otter', [120, 140]],
  ['the otter', [120]],
  ['ter', []],
  ['lan', [1]],
  ['9', []],
])('"%s" finds', (text, wanted) => expect(numbers(text)).toEqual(wanted));

test.each([
  ['', undefined],
  ['1', 1],
  ['12', 12],
  ['012', 12],
  ['2', 21],
  ['otter', undefined],
  ['turbo', 140],
  ['14', 140],
  ['13 0', undefined],
])('"%s" can only mean', (text, wanted) => expect(meant(cars, text)?.start_number).toBe(wanted));

test('a nickname of signs alone is found by its number, and finds nothing by accident', () => {
  const odd = [{ start_number: 5, display_name: '***' }];
  expect(found(odd, '5')).toHaveLength(1);
  expect(found(odd, 'x')).toHaveLength(0);
});
