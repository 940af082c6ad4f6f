import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { backoff, insist, lookedAtMs } from './again';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

test('a wait doubles up to a limit, and half of it is chance', () => {
  expect([0, 1, 2, 50].map((n) => backoff(n, 0))).toEqual([250, 500, 1000, 7500]);
  expect([0, 1, 2, 50].map((n) => backoff(n, 1))).toEqual([500, 1000, 2000, 15000]);
  expect(backoff(50, 1, lookedAtMs)).toBe(lookedAtMs);
});

test('what fails is done again until it succeeds, and no more', async () => {
  vi.spyOn(Math, 'random').mockReturnValue(1);
  const what = vi
    .fn<() => Promise<boolean>>()
    .mockRejectedValueOnce(new Error('no network'))
    .mockResolvedValueOnce(false)
    .mockResolvedValue(true);
  insist(what);
  await vi.advanceTimersByTimeAsync(499);
  expect(what).toHaveBeenCalledTimes(1);
  await vi.advanceTimersByTimeAsync(1);
  expect(what).toHaveBeenCalledTimes(2);
  await vi.advanceTimersByTimeAsync(1_000);
  expect(what).toHaveBeenCalledTimes(3);
  await vi.advanceTimersByTimeAsync(60_000);
  expect(what).toHaveBeenCalledTimes(3);
});

test('a page that is left tries no more, also where a try is under way', async () => {
  let answer!: (done: boolean) => void;
  const what = vi.fn(() => new Promise<boolean>((done) => (answer = done)));
  insist(what)();
  answer(false);
  await vi.advanceTimersByTimeAsync(60_000);
  expect(what).toHaveBeenCalledTimes(1);
});

test('the network that comes back is worth a try at once, and none after the end', async () => {
  const what = vi.fn<() => Promise<boolean>>().mockResolvedValueOnce(false).mockResolvedValue(true);
  insist(what);
  await vi.advanceTimersByTimeAsync(0);
  dispatchEvent(new Event('online'));
  await vi.advanceTimersByTimeAsync(0);
  expect(what).toHaveBeenCalledTimes(2);
  dispatchEvent(new Event('online'));
  await vi.advanceTimersByTimeAsync(60_000);
  expect(what).toHaveBeenCalledTimes(2);
});
