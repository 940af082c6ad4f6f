import { describe, expect, test, vi } from 'vitest';
import { Unreachable } from './problem';
import { retrying } from './retry';

const order = (headers: Record<string, string> = { 'Idempotency-Key': 'k' }) =>
  new Request('http://hall/api/v1/meets/m/pause', { method: 'POST', headers, body: '{}' });

/** A network that answers in turn: a status, or "broken". */
function network(...answers: (number | 'broken')[]) {
  const keys: (string | null)[] = [];
  const waits: number[] = [];
  const send = retrying(
    (request) => {
      keys.push((request as Request).headers.get('Idempotency-Key'));
      const answer = answers[keys.length - 1];
      if (answer === undefined || answer === 'broken') return Promise.reject(new TypeError('Failed to fetch'));
      return Promise.resolve(new Response('{}', { status: answer }));
    },
    async (ms) => void waits.push(ms),
  );
  return { send, keys, waits };
}

describe('retrying', () => {
  test('sends the same key again until an answer comes', async () => {
    vi.spyOn(Math, 'random').mockReturnValue(1);
    const n = network('broken', 503, 200);
    expect((await n.send(order())).status).toBe(200);
    expect(n.keys).toEqual(['k', 'k', 'k']);
    expect(n.waits).toEqual([500, 1000]);
  });

  test('a refusal is an answer', async () => {
    const n = network(409);
    expect((await n.send(order())).status).toBe(409);
    expect(n.keys).toHaveLength(1);
  });

  test('gives up with a sentence', async () => {
    const n = network();
    await expect(n.send(order())).rejects.toBeInstanceOf(Unreachable);
    expect(n.keys).toHaveLength(4);
  });

  test('does not send twice what has no key', async () => {
    const n = network();
    await expect(n.send(order({}))).rejects.toBeInstanceOf(Unreachable);
    expect(n.keys).toHaveLength(1);
  });

  test('stops when the caller aborts', async () => {
    const stop = new AbortController();
    const n = network();
    stop.abort(new Error('left the page'));
    await expect(n.send(new Request('http://hall/x', { signal: stop.signal }))).rejects.not.toBeInstanceOf(Unreachable);
    expect(n.keys).toHaveLength(1);
  });
});
