import { describe, expect, test } from 'vitest';
import { arranged, keyMove, moved } from './order';

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
    ['ArrowUp', 0, 0], ['ArrowUp', 2, 1], ['ArrowDown', 4, 4], ['ArrowDown', 1, 2], ['Home', 3, 0], ['End', 1, 4], ['Tab', 1, undefined],
  ])('%s from %i', (key, at, want) => expect(keyMove(key, at, 5)).toBe(want));
});
