import { expect, test, vi } from 'vitest';
import { Answers } from './answers';

const url = 'http://hall/api/v1/session';
const order = () => new Request('http://hall/api/v1/session', { method: 'POST', body: '{}' });

test('an answer is handed on once, and only to the same question', async () => {
  const send = vi.fn(async (asked: string) => new Response(asked));
  const ahead = new Answers(send);
  ahead.ask(url);
  expect(ahead.take(new Request(`${url}?seq=1`))).toBeUndefined();
  expect(await (await ahead.take(new Request(url)))!.text()).toBe(url);
  expect(ahead.take(new Request(url))).toBeUndefined();
  expect(send).toHaveBeenCalledOnce();
});

test('what failed or was refused is asked again', async () => {
  const answers = [
    () => Promise.reject(new TypeError('Failed to fetch')),
    () => Promise.resolve(new Response('no', { status: 401 })),
  ];
  for (const answer of answers) {
    const ahead = new Answers(answer);
    ahead.ask(url);
    expect(await ahead.take(new Request(url))).toBeUndefined();
  }
});

test('an order makes what was asked before it old, and so does time', () => {
  let now = 0;
  const ahead = new Answers(
    async () => new Response('{}'),
    () => now,
  );
  ahead.ask(url);
  expect(ahead.take(order())).toBeUndefined();
  expect(ahead.take(new Request(url))).toBeUndefined();

  ahead.ask(url);
  now = 10_001;
  expect(ahead.take(new Request(url))).toBeUndefined();
});

test('who says by a key of its own who asks gets no answer for somebody else', () => {
  const ahead = new Answers(async () => new Response('{}'));
  ahead.ask(url);
  expect(ahead.take(new Request(url, { headers: { Authorization: 'Bearer other' } }))).toBeUndefined();
  expect(ahead.take(new Request(url))).toBeDefined();
});
