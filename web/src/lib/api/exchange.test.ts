import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { cut, page, receipt } from '../../../test/answers';
import { exchange } from './exchange';
import { Unreachable } from './problem';

const key = '0190a000-0000-7000-8000-000000000001';
const order = () =>
  new Request('http://hall.test/api/v1/meets/m/pause', {
    method: 'POST',
    headers: { 'Idempotency-Key': key },
    body: '{}',
  });
const question = () => new Request('http://hall.test/api/v1/meets/m/runs');
const json = { headers: { 'Content-Type': 'application/json' } };
/** Ends as text: what came, or why nothing did. */
const told = (answer: Promise<Response>) =>
  answer.then(
    (one) => one.text(),
    (thrown: unknown) => (thrown instanceof Unreachable ? thrown.why : String(thrown)),
  );

/** A body that comes in pieces, one every so many ms; it may never end. */
const dripping = (pieces: string[], everyMs: number, ends = true) =>
  new ReadableStream<Uint8Array>({
    async start(to) {
      for (const piece of pieces) {
        await new Promise((next) => setTimeout(next, everyMs));
        to.enqueue(new TextEncoder().encode(piece));
      }
      if (ends) to.close();
    },
  });

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe('exchange', () => {
  test('gives an answer that is whole', async () => {
    expect(JSON.parse(await told(exchange(async () => receipt(key))(order())))).toMatchObject({ seq: 12 });
  });

  test.each([
    ['the head never comes', () => new Promise<Response>(() => {})],
    ['the body never ends', () => cut(receipt(key), 20, 'hangs')],
  ])('gives up in time where %s', async (_, answer) => {
    let over = false;
    const ending = told(exchange(answer)(order())).finally(() => (over = true));
    await vi.advanceTimersByTimeAsync(9_900);
    expect(over).toBe(false);
    await vi.advanceTimersByTimeAsync(200);
    expect(await ending).toBe('silent');
  });

  test('lets a long download take as long as something comes', async () => {
    const body = dripping(['[', ...Array.from({ length: 20 }, () => '1,'), '1]'], 8_000); // 176 s in all
    const ending = told(exchange(async () => new Response(body, json))(question()));
    await vi.advanceTimersByTimeAsync(180_000);
    expect(JSON.parse(await ending)).toHaveLength(21);
  });

  test('but not the receipt of an order', async () => {
    let over = false;
    const body = dripping(
      Array.from({ length: 20 }, () => ' '),
      8_000,
    );
    const ending = told(
      exchange(async () => new Response(body, { headers: { ...json.headers, 'Idempotency-Key': key } }))(order()),
    ).finally(() => (over = true));
    await vi.advanceTimersByTimeAsync(20_100);
    expect(over).toBe(true);
    expect(await ending).toBe('silent');
  });

  test('tells a log-in page from no network', async () => {
    expect(await told(exchange(async () => page(200))(question()))).toBe('strange');
    expect(await told(exchange(() => Promise.reject(new TypeError('Failed to fetch')))(question()))).toBe('silent');
  });

  test('takes no answer that was fetched from elsewhere', async () => {
    const elsewhere = Object.defineProperty(new Response('{}', json), 'redirected', { value: true });
    expect(await told(exchange(async () => elsewhere)(question()))).toBe('strange');
  });

  test('cuts the request when it gives up, and when the caller does', async () => {
    const signals: AbortSignal[] = [];
    const send = exchange((_, init) => (signals.push(init!.signal!), new Promise(() => {})));
    void told(send(order()));
    await vi.advanceTimersByTimeAsync(10_100);
    expect(signals[0]!.aborted).toBe(true);
    const left = new AbortController();
    const ending = told(
      exchange((_, init) => (signals.push(init!.signal!), new Promise(() => {})), undefined, left.signal)(order()),
    );
    left.abort(new Error('left the page'));
    expect(await ending).toBe('Error: left the page');
    expect(signals[1]!.aborted).toBe(true);
  });
});
