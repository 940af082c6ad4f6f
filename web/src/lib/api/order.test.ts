import { expect, test } from 'vitest';
import { Order } from './order.svelte';
import { asProblem, Unreachable } from './problem';

/** An order whose tries end in turn as told; it notes the keys. */
function told(...ends: (string | Error)[]) {
  const keys: string[] = [];
  const order = new Order((key: string, _heat: string) => {
    keys.push(key);
    const end = ends.shift()!;
    return end instanceof Error ? Promise.reject(end) : Promise.resolve(end);
  });
  return { order, keys };
}

const refusal = asProblem({ code: 'paused', detail: 'The meet is paused: resume it first.' }, 409);

test('gives the answer', async () => {
  const { order } = told('done');
  const sending = order.send('h1');
  expect(order.busy).toBe(true);
  expect(await sending).toBe('done');
  expect(order.busy).toBe(false);
});

test('is sent once however often it is pressed meanwhile', async () => {
  const { order, keys } = told('done', 'done');
  await Promise.all([order.send('h1'), order.send('h1')]);
  expect(keys).toHaveLength(1);
});

test('says why it was refused, and asks anew with a new key', async () => {
  const { order, keys } = told(refusal, 'done');
  expect(await order.send('h1')).toBeUndefined();
  expect(order.said).toBe('The meet is paused: resume it first.');
  await order.send('h1');
  expect(order.said).toBeUndefined();
  expect(keys[0]).not.toBe(keys[1]);
});

test('without an answer the same content keeps its key, another gets its own', async () => {
  const { order, keys } = told(new Unreachable(), new Unreachable(), 'done');
  await order.send('h1');
  await order.send('h1');
  await order.send('h2');
  expect(keys[0]).toBe(keys[1]);
  expect(keys[2]).not.toBe(keys[1]);
});
