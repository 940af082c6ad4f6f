import { expect, test, vi } from 'vitest';
import type { Schema } from '$lib/api';
import { Moving } from './moving.svelte';

test('several moves are one order, shown at once and let go of when the plan has it', async () => {
  vi.useFakeTimers();
  const orders: string[][] = [];
  let answer: (receipt: Schema['Receipt']) => void = () => undefined;
  const sent = vi.fn();
  const moving = new Moving((_, order) => {
    orders.push(order);
    return new Promise((done) => (answer = done));
  }, sent);
  const receipt = (seq: number) => ({ seq }) as Schema['Receipt'];

  moving.move('a', ['b', 'a', 'c']);
  moving.move('a', ['b', 'c', 'a']);
  expect([moving.wanted, orders]).toEqual([['b', 'c', 'a'], []]);
  await vi.advanceTimersByTimeAsync(300);
  expect(orders).toEqual([['b', 'c', 'a']]);

  // Moved on while the order is on its way: what it gave is not the end.
  moving.move('b', ['c', 'b', 'a']);
  await vi.advanceTimersByTimeAsync(300);
  answer(receipt(7));
  await vi.advanceTimersByTimeAsync(0);
  moving.reached(7);
  expect([moving.wanted, orders.at(-1)]).toEqual([
    ['c', 'b', 'a'],
    ['c', 'b', 'a'],
  ]);
  answer(receipt(8));
  await vi.advanceTimersByTimeAsync(0);
  moving.reached(7);
  expect(moving.wanted).toEqual(['c', 'b', 'a']);
  moving.reached(8);
  expect(moving.wanted).toBeUndefined();
  expect(sent).toHaveBeenCalledTimes(2);
  vi.useRealTimers();
});

test('what is refused is not shown any longer, and said', async () => {
  vi.useFakeTimers();
  const moving = new Moving(
    () => Promise.reject(new Error('no')),
    () => undefined,
  );
  moving.move('a', ['b', 'a']);
  await vi.advanceTimersByTimeAsync(300);
  expect(moving.wanted).toBeUndefined();
  expect(moving.said).toBeDefined();
  vi.useRealTimers();
});
