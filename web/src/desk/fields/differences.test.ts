import { expect, test } from 'vitest';
import { differences, only } from './differences';

test('only what differs is listed, with its place in words', () => {
  const mine = { name: 'Cubs', age_to: 10, class: { lap_m: 3 }, stages: [{ race_s: 60, rounds: 2 }] };
  const theirs = {
    name: 'Cubs',
    age_to: 0,
    class: { lap_m: 2.5 },
    stages: [{ race_s: 60, rounds: 3 }, { race_s: 30 }],
  };
  expect(differences(mine, theirs)).toEqual([
    ['age to', 10, undefined],
    ['class, lap m', 3, 2.5],
    ['stages, 1, rounds', 2, 3],
    ['stages, 2, race s', undefined, 30],
  ]);
  expect(differences(mine, structuredClone(mine))).toEqual([]);
  expect(only({ id: 'b1', number: 3, edition: 'ab' }, ['number', 'factor'])).toEqual({ number: 3 });
});
