import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { api, ask } from './client';
import { Problem, sentence } from './problem';

const body = { name: 'Harbour Hall spring meet', date: '2027-04-17' };
let sent: Request[];

function answers(status: number, content: unknown, type = 'application/json') {
  vi.stubGlobal('fetch', (request: Request) => {
    sent.push(request);
    // The server names the order in its answer.
    const key = request.headers.get('Idempotency-Key');
    const named = key && status < 300 ? { ...(content as object), order: key } : content;
    return Promise.resolve(
      new Response(JSON.stringify(named), {
        status,
        headers: { 'Content-Type': type, ...(key && { 'Idempotency-Key': key }) },
      }),
    );
  });
}

beforeEach(() => void (sent = []));
afterEach(() => {
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

describe('ask', () => {
  test('gives the data', async () => {
    answers(200, { meets: [] });
    expect(await ask(api.GET('/api/v1/meets'))).toEqual({ meets: [] });
    expect(sent[0]!.headers.has('Idempotency-Key')).toBe(false);
  });

  test('an order gets a key of its own', async () => {
    answers(201, { seq: 1, head: 'ab', events: [] });
    await ask(api.POST('/api/v1/meets', { body: { id: 'spring', plan: body } }));
    await ask(api.POST('/api/v1/meets', { body: { id: 'spring', plan: body } }));
    const keys = sent.map((r) => r.headers.get('Idempotency-Key'));
    expect(keys[0]).toMatch(/^[0-9a-f-]{36}$/);
    expect(keys[0]).not.toBe(keys[1]);
  });

  test('or the key that the caller gives', async () => {
    answers(200, { seq: 1, head: 'ab', events: [] });
    await ask(
      api.POST('/api/v1/meets/{meet}/resume', {
        params: { path: { meet: 'm' }, header: { 'Idempotency-Key': 'mine' } },
      }),
    );
    expect(sent[0]!.headers.get('Idempotency-Key')).toBe('mine');
  });

  test('a refusal becomes its sentence', async () => {
    const problem = {
      type: 'about:blank',
      title: 'Conflict',
      status: 409,
      code: 'paused',
      detail: 'The meet is paused: resume it first.',
    };
    answers(409, problem, 'application/problem+json');
    const thrown: unknown = await ask(api.GET('/api/v1/meets')).catch((e: unknown) => e);
    expect(thrown).toBeInstanceOf(Problem);
    expect(thrown).toMatchObject({ code: 'paused', status: 409 });
    expect(sentence(thrown)).toBe('The meet is paused: resume it first.');
  });

  test('an answer that is not the server’s is no answer', async () => {
    vi.useFakeTimers();
    answers(500, 'what?');
    const thrown = ask(api.GET('/api/v1/meets')).catch((e: unknown) => e);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(sentence(await thrown)).toContain('Something else than the server');
    expect(sent).toHaveLength(4);
  });
});
