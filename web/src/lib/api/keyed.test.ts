import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { problem, receipt } from '../../../test/answers';
import { ask, connect } from './client';
import { Order } from './order.svelte';
import { unsettled } from './unsettled';

const now = { silence: 5, order: 10 };
const params = { path: { meet: 'm' } };
type Answer = (key: string, request: Request) => Response | Promise<Response>;
let keys: string[];
let withdrawn: number;

/** A button that pauses a meet, and one of a page that was loaded anew, over a network that answers in turn. */
function buttons(...answers: Answer[]) {
  const api = connect(
    async (request) => {
      const key = (request as Request).headers.get('Idempotency-Key')!;
      if ((request as Request).headers.has('Order-Withdraw')) {
        withdrawn++;
        return problem(key, 409, 'order-withdrawn');
      }
      keys.push(key);
      return (answers.shift() ?? done)(key, request as Request);
    },
    now,
    async () => {},
  );
  return () =>
    new Order((key: string, code: string) =>
      ask(
        api.POST('/api/v1/meets/{meet}/pause', {
          params: { ...params, header: { 'Idempotency-Key': key } },
          body: { reason: { code } },
        }),
      ),
    );
}

const done: Answer = (key) => receipt(key);
const failed: Answer = (key) => problem(key, 500, 'internal');
const signIn: Answer = (key) => problem(key, 401, 'sign-in');
const no: Answer = (key) => problem(key, 409, 'paused');
const broken: Answer = () => Promise.reject(new TypeError('Failed to fetch'));
const halfDone: Answer = (key) =>
  new Response('{"seq":', { headers: { 'Content-Type': 'application/json', 'Idempotency-Key': key } });
const gateway: Answer = () =>
  new Response('<h1>Bad gateway</h1>', { status: 502, headers: { 'Content-Type': 'text/html' } });

beforeEach(() => {
  sessionStorage.clear();
  unsettled.reload();
  [keys, withdrawn] = [[], 0];
});
afterEach(() => void vi.useRealTimers());

describe('an order keeps its key', () => {
  test.each<[string, Answer[]]>([
    ['a server that failed', [failed]],
    ['a sign-in that was lost', [signIn]],
    ['answers that broke off', [halfDone, halfDone, halfDone, halfDone]],
    ['no network', [broken, broken, broken, broken]],
    ['a proxy without a server', [gateway, gateway, gateway, gateway]],
    ['all of it', [broken, halfDone, gateway, signIn]],
  ])('after %s', async (_, answers) => {
    const button = buttons(...answers)();
    expect(await button.send('lunch')).toBeUndefined();
    expect(button.said).toBeTruthy();
    expect(await button.send('lunch')).toMatchObject({ seq: 12 });
    expect(new Set(keys).size).toBe(1);
  });

  test('though the button is another, and though the page is loaded anew', async () => {
    const button = buttons(failed, failed);
    await button().send('lunch');
    await button().send('lunch');
    unsettled.reload();
    await button().send('lunch');
    expect(keys).toHaveLength(3);
    expect(new Set(keys).size).toBe(1);
  });

  test('though something else is ordered in between', async () => {
    const button = buttons(failed, done, done)();
    await button.send('lunch');
    await button.send('alarm');
    await button.send('lunch');
    expect(keys[2]).toBe(keys[0]);
    expect(keys[1]).not.toBe(keys[0]);
  });

  test('until it is known what became of it', async () => {
    const button = buttons(done, no, done)();
    for (let n = 0; n < 3; n++) await button.send('lunch');
    expect(new Set(keys).size).toBe(3);
    expect(withdrawn).toBe(0);
  });

  test('and the tab keeps nothing of what was ordered', async () => {
    await buttons(failed)().send('lunch');
    expect(JSON.stringify(sessionStorage)).not.toContain('lunch');
    expect(sessionStorage).toHaveLength(1);
  });
});

test('a no after a try without an answer is said once that try is taken back', async () => {
  const button = buttons(broken, no)();
  expect(await button.send('lunch')).toBeUndefined();
  expect(button.said).toBe('No: paused.');
  expect(withdrawn).toBe(1);
});

test('an order that was taken back, unknown to whoever presses, goes out as a new one', async () => {
  const button = buttons(failed, (key) => problem(key, 409, 'order-withdrawn'), done)();
  await button.send('lunch');
  expect(await button.send('lunch')).toMatchObject({ seq: 12 });
  expect(new Set(keys).size).toBe(2);
});

test('what was done at a press long ago is said, not passed off as done now', async () => {
  vi.useFakeTimers({ toFake: ['Date'] });
  vi.setSystemTime(new Date(2027, 3, 17, 10, 4, 5));
  const again: Answer = (key) => receipt(key, {}, { 'Order-Again': 'true' });
  const button = buttons(failed, again, done)();
  await button.send('lunch');
  vi.setSystemTime(new Date(2027, 3, 17, 10, 9, 5));
  expect(await button.send('lunch')).toBeUndefined();
  expect(button.said).toContain('10:04:05');
  expect(await button.send('lunch')).toMatchObject({ seq: 12 }); // and now it is a new one
  expect(keys[2]).not.toBe(keys[1]);
});
