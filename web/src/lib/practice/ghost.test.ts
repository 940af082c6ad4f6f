import { expect, test } from 'vitest';
import { evenGhost, ghostOf } from './ghost';

const sample = (at_s: number, speed_mps: number) => ({ at_s, speed_mps, rpm: 0 });

test('a run that comes up to speed is behind one at an even speed, and both end at its metres', () => {
  // From rest to 10 m/s in 2 s, then even: 10 + 80 m in 10 s.
  const speeds = [sample(0, 0), sample(1, 5), sample(2, 10), sample(6, 10), sample(10, 10)];
  const ghost = ghostOf(speeds, 90)!;
  expect([0, 1, 2, 4, 10, 12].map(ghost)).toEqual([0, 2.5, 10, 30, 90, 90]);
  const even = evenGhost(90, 10);
  expect(even(2)).toBe(18);
  expect(even(11)).toBe(90);
});

test('what the bench read is what it ends at, where the curve comes to a little more', () => {
  const ghost = ghostOf([sample(0, 10), sample(10, 10)], 99)!;
  expect(ghost(5)).toBeCloseTo(49.5, 9);
  expect(ghost(10)).toBeCloseTo(99, 9);
});

test('a curve that begins late began from rest', () => {
  const ghost = ghostOf([sample(-0.5, 0), sample(2, 10), sample(4, 10)], 30)!;
  expect(ghost(1)).toBeCloseTo(2.5, 9);
  expect(ghost(2)).toBeCloseTo(10, 9);
});

test('without stamps there is none', () => {
  expect(ghostOf([], 90)).toBeUndefined();
  expect(ghostOf([sample(1, 2)], 90)).toBeUndefined();
  expect(ghostOf([sample(0, 0), sample(1, 0)], 90)).toBeUndefined();
});
