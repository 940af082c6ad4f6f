import { expect, test } from 'vitest';
import { operations } from './operations';

/** What was asked, and an answer. */
function answering(body: string | null, status = 200) {
  const asked: Request[] = [];
  const api = operations<Record<string, never>>('http://hall.test', (request) => {
    asked.push(request);
    return Promise.resolve(new Response(body, { status }));
  }) as unknown as Record<
    'GET' | 'POST',
    (path: string, call?: object) => Promise<{ data?: unknown; error?: unknown; response: Response }>
  >;
  return { api, asked };
}

test('names in the path, the query and the head go out as they are meant', async () => {
  const { api, asked } = answering('{}');
  await api.GET('/m/{meet}/runs', {
    params: {
      path: { meet: 'a/b ?é' },
      query: { from: 'x&y', limit: 3, not: undefined },
      header: { 'Idempotency-Key': 'k' },
    },
  });
  expect(asked[0]!.url).toBe('http://hall.test/m/a%2Fb%20%3F%C3%A9/runs?from=x%26y&limit=3');
  expect(asked[0]!.headers.get('Idempotency-Key')).toBe('k');
  expect(asked[0]!.headers.has('Content-Type')).toBe(false);
});

test('a body goes out as JSON, an empty one too', async () => {
  const { api, asked } = answering('{"a":1}', 201);
  expect((await api.POST('/x', { body: {} })).data).toEqual({ a: 1 });
  expect(await asked[0]!.text()).toBe('{}');
  expect(asked[0]!.headers.get('Content-Type')).toBe('application/json');
});

test('no body is no data', async () => expect((await answering(null, 204).api.POST('/x')).data).toBeUndefined());

test('what an error says is told whether it is JSON or not', async () => {
  expect((await answering('{"code":"no"}', 409).api.POST('/x')).error).toEqual({ code: 'no' });
  expect((await answering('<html>', 502).api.GET('/x')).error).toBe('<html>');
});
