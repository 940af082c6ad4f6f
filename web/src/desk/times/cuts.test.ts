import { expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { cutKey, shownFirst } from './cuts';

const cut = (division: string, saves_s: number, runs_after?: number): Schema['DayCut'] => ({
  code: 'fewer-rounds',
  division,
  stage: saves_s,
  finish: '2027-04-17T16:00:00Z',
  saves_s,
  now: true,
  ...(runs_after !== undefined && { runs_after, runs_before: runs_after + 1, entries: 8 }),
});

test('the first choices leave every child two races, and no division bears them all', () => {
  const all = [cut('a', 900, 1), cut('a', 800, 2), cut('a', 700, 3), cut('a', 600, 2), cut('b', 300), cut('c', 100, 1)];
  expect(shownFirst(all).map(cutKey)).toEqual(['a fewer-rounds 800', 'a fewer-rounds 700', 'b fewer-rounds 300']);
  // Where nothing else is left, what is advised against is shown too, and said to be.
  expect(shownFirst([cut('a', 900, 1)]).map(cutKey)).toEqual(['a fewer-rounds 900']);
});

test('what was printed with the rules comes first, in its order, whatever it saves and takes', () => {
  const all = [cut('c', 100, 1), cut('a', 300, 1), cut('a', 200, 1), cut('a', 150, 2), cut('b', 900, 3)];
  const listed = all.map((one, at) => (at < 4 ? { ...one, place: at + 1 } : one));
  expect(shownFirst(listed).map(cutKey)).toEqual(['c fewer-rounds 100', 'a fewer-rounds 300', 'a fewer-rounds 200']);
  expect(shownFirst(listed.slice(2)).map(cutKey)).toEqual(['a fewer-rounds 200', 'a fewer-rounds 150']);
});
