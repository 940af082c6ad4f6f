import { describe, expect, test } from 'vitest';
import { placesOf } from './places';

describe('placesOf', () => {
  test('while nobody points at it, a list is as it is', () => {
    expect(placesOf(['a', null, 'c'], ['c', 'b'], false)).toEqual(['c', 'b']);
  });

  test('what stays keeps its place, whatever leaves before it', () => {
    expect(placesOf(['a', 'b', 'c'], ['b', 'c'], true)).toEqual([null, 'b', 'c']);
    expect(placesOf([null, 'b', 'c'], ['c'], true)).toEqual([null, null, 'c']);
  });

  test('what comes takes an empty place, and else stands behind, also where it belongs before', () => {
    expect(placesOf([null, 'b'], ['n', 'b'], true)).toEqual(['n', 'b']);
    expect(placesOf(['a', 'b'], ['n', 'a', 'b'], true)).toEqual(['a', 'b', 'n']);
  });
});
