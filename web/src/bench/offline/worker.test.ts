import { beforeEach, expect, test, vi } from 'vitest';

type Heard = { request: Request; answer?: Promise<Response>; waits?: Promise<unknown> };
const listeners: Record<string, (event: unknown) => void> = {};
let stored: Map<string, Map<string, Response>>;
const unregister = vi.fn(async () => true);
const server = vi.fn<(request: Request) => Promise<Response>>();

/** begin runs the worker as a browser would, with a store and a server that a test has. */
async function begin(scope = '/bench'): Promise<void> {
  stored = new Map();
  vi.stubGlobal('__BENCH_FILES__', ['/assets/a-1.js']);
  vi.stubGlobal('__BENCH_VERSION__', 'two');
  vi.stubGlobal('addEventListener', (name: string, heard: (event: unknown) => void) => (listeners[name] = heard));
  vi.stubGlobal('fetch', server);
  vi.stubGlobal('registration', { unregister, scope: new URL(scope, location.href).href });
  vi.stubGlobal('caches', {
    keys: async () => [...stored.keys()],
    delete: async (name: string) => stored.delete(name),
    open: async (name: string) => {
      if (!stored.has(name)) stored.set(name, new Map());
      const one = stored.get(name)!;
      return {
        addAll: async (all: string[]) => all.forEach((path) => one.set(path, new Response(`kept ${path}`))),
        match: async (path: string) => one.get(path),
      };
    },
  });
  vi.resetModules();
  await import('./worker');
}

/** ask has the page ask for something; no answer is that the browser asks the server itself. */
async function ask(path: string, navigates = false, method = 'GET'): Promise<string | undefined> {
  const request = { url: new URL(path, location.href).href, method, mode: navigates ? 'navigate' : 'cors' } as Request;
  const event: Heard = { request };
  listeners['fetch']!({ ...event, respondWith: (answer: Promise<Response>) => (event.answer = answer) });
  const answer = await event.answer;
  return answer?.text();
}

async function life(name: 'install' | 'activate'): Promise<void> {
  let waits: Promise<unknown> | undefined;
  listeners[name]!({ waitUntil: (what: Promise<unknown>) => (waits = what) });
  await waits;
}

const fresh = (headers: Record<string, string>) => async () => new Response('from the server', { headers });

beforeEach(async () => {
  vi.clearAllMocks();
  await begin();
  await life('install');
});

test('it never answers for the API, for orders or for other hosts', async () => {
  expect(await ask('/api/v1/benches/b1/order')).toBeUndefined();
  expect(await ask('/bench/b1', true, 'POST')).toBeUndefined();
  expect(await ask('http://elsewhere.test/assets/a-1.js')).toBeUndefined();
  expect(server).not.toHaveBeenCalled();
  expect([...stored.get('bench-two')!.keys()].filter((path) => path.includes('/api/'))).toEqual([]);
});

test('the page comes from the server while it answers, and else from the phone', async () => {
  server.mockImplementation(fresh({ 'Benchmeet-Offline': '1' }));
  expect(await ask('/bench/b1', true)).toBe('from the server');
  expect(unregister).not.toHaveBeenCalled();
  server.mockRejectedValue(new TypeError('no network'));
  expect(await ask('/bench/b1', true)).toBe('kept /bench');
  expect(await ask('/assets/a-1.js')).toBe('kept /assets/a-1.js');
});

test('a server that does not answer is not waited for', async () => {
  vi.useFakeTimers();
  server.mockReturnValue(new Promise(() => {}));
  const page = ask('/bench/b1', true);
  await vi.advanceTimersByTimeAsync(5_000);
  expect(await page).toBe('kept /bench');
  vi.useRealTimers();
});

test('another version takes the place of the one before', async () => {
  stored.set('bench-one', new Map());
  stored.set('of another program', new Map());
  await life('activate');
  expect([...stored.keys()].sort()).toEqual(['bench-two', 'of another program']);
});

test('it goes where the server has none', async () => {
  server.mockImplementation(fresh({}));
  expect(await ask('/bench/b1', true)).toBe('from the server');
  expect(unregister).toHaveBeenCalledOnce();
  expect([...stored.keys()]).toEqual([]);
});

test('a club that shares the host has the page of its own address, and asks its own API', async () => {
  await begin('/c/harbour/bench');
  await life('install');
  server.mockRejectedValue(new TypeError('no network'));
  expect(await ask('/c/harbour/bench/b1', true)).toBe('kept /c/harbour/bench');
  expect(await ask('/c/harbour/api/v1/benches/b1/order')).toBeUndefined();
});
