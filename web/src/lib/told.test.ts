import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Told } from './told.svelte';

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

const of = (...keys: string[]) => keys.map((key) => ({ key, says: `${key} is called.` }));
const heard = (told: Told) => {
  vi.advanceTimersByTime(500);
  return told.now;
};

test('what was there when the page was opened is no news', () => {
  const told = new Told();
  told.take(of('a'));
  expect(heard(told)).toBe('');
  const later = new Told(['a']);
  later.take(of('a', 'b'));
  expect(heard(later)).toBe('b is called.');
});

test('the region is there before its text, and says each thing once, however often the list comes', () => {
  const told = new Told([]);
  told.take(of('a'));
  expect(told.now).toBe('');
  expect(heard(told)).toBe('a is called.');
  const frames: string[] = [];
  for (let i = 0; i < 100; i++) {
    told.take(of('a'));
    frames.push(heard(told));
  }
  expect(frames.filter((text, i) => text && text !== frames[i - 1] && i > 0)).toEqual([]);
  expect(frames.at(-1)).toBe('');
});

test('two that come at nearly the same time are both said', () => {
  const told = new Told([]);
  told.take(of('a'));
  vi.advanceTimersByTime(20);
  told.take(of('a', 'b'));
  expect(heard(told)).toBe('a is called. b is called.');
});

test('what went and comes again is said again, in the same words', () => {
  const told = new Told([]);
  told.take(of('a'));
  heard(told);
  told.take([]);
  vi.advanceTimersByTime(30_000);
  expect(told.now).toBe('');
  told.take(of('a'));
  expect(heard(told)).toBe('a is called.');
});
