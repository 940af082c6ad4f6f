import { afterEach, expect, test, vi } from 'vitest';
import { MeetWatch } from './watch.svelte';

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

test('a page that is left while its first question fails asks no more', async () => {
  vi.useFakeTimers();
  let asked = 0;
  vi.stubGlobal('fetch', () => (asked++, Promise.reject(new TypeError('Failed to fetch'))));
  vi.stubGlobal(
    'WebSocket',
    class {
      close() {}
    },
  );
  const leave = new MeetWatch('spring', () => ['meet']).start();
  await vi.advanceTimersByTimeAsync(100);
  leave();
  await vi.advanceTimersByTimeAsync(5_000);
  const then = asked;
  await vi.advanceTimersByTimeAsync(120_000);
  expect([then > 0, asked]).toEqual([true, then]);
});
