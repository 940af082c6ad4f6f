import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { arranged, byLot, keyMove, moved, sorted } from './order';

describe('moving', () => {
  test.each([
    ['down', 0, 2, ['b', 'c', 'a', 'd']],
    ['up', 3, 1, ['a', 'd', 'b', 'c']],
    ['beyond the end', 1, 99, ['a', 'c', 'd', 'b']],
    ['before the start', 2, -4, ['c', 'a', 'b', 'd']],
    ['nowhere', 1, 1, undefined],
    ['to no number', 1, NaN, undefined],
    ['what is not there', 9, 1, undefined],
  ])('%s', (_, from, to, want) => expect(moved(['a', 'b', 'c', 'd'], from, to)).toEqual(want));
});

test('who came goes behind, who left falls out', () => {
  expect(arranged(['c', 'a', 'b'], ['a', 'c', 'd'])).toEqual(['c', 'a', 'd']);
});

describe('keys', () => {
  test.each([
    ['ArrowUp', 0, 0],
    ['ArrowUp', 2, 1],
    ['ArrowDown', 4, 4],
    ['ArrowDown', 1, 2],
    ['Home', 3, 0],
    ['End', 1, 4],
    ['Tab', 1, undefined],
  ])('%s from %i', (key, at, want) => expect(keyMove(key, at, 5)).toBe(want));
});

describe('methods', () => {
  const line = (entry: string, more: Partial<Schema['SeedLine']>) =>
    ({
      racer: { entry, start_number: 1 },
      checked_in: true,
      late: false,
      by_lot: false,
      ...more,
    }) satisfies Schema['SeedLine'];
  const lines = [
    line('a', { rank: 3 }),
    line('b', { rank: 1, rating: 1400 }),
    line('c', { rating: 1600 }),
    line('d', { rank: 2 }),
  ];
  test.each([
    ['rank', 'bdac'],
    ['rating', 'cbad'],
    ['hand', 'abcd'],
    ['lot', 'abcd'],
  ] as const)('%s', (method, want) =>
    expect(
      sorted(method, lines)
        .map((l) => l.racer.entry)
        .join(''),
    ).toBe(want),
  );
  test('the lot decides for all by lot, and for the unrated by rating', () => {
    expect(lines.map((l) => byLot('lot', l))).toEqual([true, true, true, true]);
    expect(lines.map((l) => byLot('rating', l))).toEqual([true, false, false, true]);
    expect(lines.map((l) => byLot('hand', l))).toEqual([false, false, false, false]);
  });
});
