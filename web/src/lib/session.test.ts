import { beforeEach, expect, test, vi } from 'vitest';
import { api, ask } from './api';
import { session } from './session.svelte';

type Who = { role: string; actor?: string; benches: string[] };
const organiser: Who = { role: 'organiser', actor: 'organiser-1', benches: [] };
const phone: Who = { role: 'volunteer', actor: 'volunteer-1', benches: ['b1'] };
const nobody: Who = { role: 'public', benches: [] };
const tokens: Record<string, Who> = { own: organiser, other: phone };

/** A server that knows two tokens; `cookie` is whose cookie the browser has. */
let cookie: Who;
let listening: boolean;
beforeEach(() => {
  [cookie, listening] = [nobody, true];
  sessionStorage.clear();
  location.hash = '';
  vi.stubGlobal('fetch', async (request: Request) => {
    if (!listening) throw new TypeError('Failed to fetch');
    const key = request.headers.get('Idempotency-Key');
    const give = (status: number, body: unknown) =>
      new Response(JSON.stringify(body), {
        status,
        headers: {
          'Content-Type': status < 400 ? 'application/json' : 'application/problem+json',
          ...(key && { 'Idempotency-Key': key }),
        },
      });
    const refuse = (code: string) => give(401, { type: '', title: '', status: 401, code, detail: `No: ${code}.` });
    if (request.url.endsWith('/session/account')) return refuse('password-wrong');
    const bearer =
      request.method === 'POST'
        ? ((await request.json()) as { token: string }).token
        : request.headers.get('Authorization')?.replace('Bearer ', '');
    const who = bearer === undefined ? cookie : tokens[bearer];
    if (!who) return refuse('bad-token');
    if (request.url.endsWith('/people')) return who.role === 'public' ? refuse('sign-in') : give(200, { people: [] });
    if (request.method === 'POST') cookie = who;
    return give(200, who);
  });
});

const follow = async (token: string) => {
  location.hash = `#token=${token}`;
  await session.open();
};

test('a link signs in whoever is nobody yet, and is taken out of the address', async () => {
  await follow('own');
  expect([session.role, cookie, location.hash]).toEqual(['organiser', organiser, '']);
});

test('a link for somebody else is offered, and replaces nothing unasked', async () => {
  cookie = organiser;
  await follow('other');
  expect([session.role, cookie]).toEqual(['organiser', organiser]);
  expect(session.offer?.session).toEqual(phone);
  session.decline();
  expect([session.offer, cookie]).toEqual([undefined, organiser]);

  await follow('other');
  await session.accept();
  expect([session.role, session.benches, cookie, session.offer]).toEqual(['volunteer', ['b1'], phone, undefined]);
});

test('the own link again asks nothing', async () => {
  cookie = organiser;
  await follow('own');
  expect([session.role, session.offer, session.said]).toEqual(['organiser', undefined, undefined]);
});

test('a link that is not valid any more leaves the sign-in as it is, and says so', async () => {
  cookie = organiser;
  await follow('old');
  expect([session.role, session.known, cookie, session.said]).toEqual(['organiser', true, organiser, 'No: bad-token.']);
});

test('a sign-in that is lost is noticed by whatever is asked, and found again', async () => {
  cookie = organiser;
  await session.open();
  expect(session.lost).toBe(false);
  cookie = nobody; // revoked
  await ask(api.GET('/api/v1/people')).catch(() => {});
  expect([session.lost, session.role]).toEqual([true, 'organiser']); // the page stays with all that was typed
  await session.signIn('wrong');
  expect([session.lost, session.said]).toEqual([true, 'No: bad-token.']);
  await session.signIn('see http://hall/desk#token=own now');
  expect([session.lost, session.said, cookie]).toEqual([false, undefined, organiser]);
});

/** What a browser still holds of keys of links. */
const held = () => Object.values({ ...sessionStorage }).filter((value) => /own|other|wrong/.test(value));

test('a link that is left before its answer signs in the next page of the tab', async () => {
  let asked = 0;
  let end!: () => void;
  const left = new Promise<Response>((_, failed) => (end = () => failed(new TypeError('Failed to fetch'))));
  const serve = fetch;
  vi.stubGlobal('fetch', async (request: Request) => {
    if (request.method === 'POST' && asked++ === 0) return left; // the page goes before it comes
    return serve(request);
  });
  location.hash = '#token=own';
  const opened = session.open();
  await vi.waitFor(() => expect(asked).toBe(1));
  expect([location.hash, held()]).toEqual(['', ['own']]);

  vi.resetModules();
  const { session: next } = await import('./session.svelte');
  await next.open();
  expect([next.role, cookie, held()]).toEqual(['organiser', organiser, []]);
  end();
  await opened;
});

test.each([
  ['it signed in', nobody, 'own', []],
  ['it is somebody else’s and is offered', organiser, 'other', []],
  ['it is good for nothing', nobody, 'wrong', []],
])('no key stays behind once it was answered: %s', async (_, who, token, left) => {
  cookie = who;
  await follow(token);
  expect(held()).toEqual(left);
});

test('a key stays for the tab where the server was not reached', async () => {
  vi.useFakeTimers();
  listening = false;
  const opened = follow('own');
  await vi.runAllTimersAsync();
  await opened;
  expect([session.unreachable, held()]).toEqual([true, ['own']]);
  vi.useRealTimers();
  listening = true;
  await session.open();
  expect([session.unreachable, session.role, cookie, held()]).toEqual([false, 'organiser', organiser, []]);
});

test('asked twice at once, a key is exchanged once', async () => {
  let exchanged = 0;
  const serve = fetch;
  vi.stubGlobal('fetch', (request: Request) => {
    if (request.method === 'POST') exchanged++;
    return serve(request);
  });
  location.hash = '#token=own';
  await Promise.all([session.open(), session.open()]);
  expect([exchanged, session.role]).toEqual([1, 'organiser']);
});

test('a key or a password that is wrong signs nobody out', async () => {
  cookie = phone;
  await follow('other');
  await session.signIn('nonsense');
  expect([session.role, session.lost, session.said]).toEqual(['volunteer', false, 'No: bad-token.']);
  await expect(
    ask(api.POST('/api/v1/session/account', { body: { name: 'table', password: 'nonsense' } })),
  ).rejects.toThrow('No: password-wrong.');
  expect([session.role, session.lost]).toEqual(['volunteer', false]);
});

test('what a sign-in by name is answered with is who we are', async () => {
  vi.stubGlobal('fetch', (request: Request) =>
    Promise.resolve(
      new Response(JSON.stringify(organiser), {
        headers: { 'Content-Type': 'application/json', 'Idempotency-Key': request.headers.get('Idempotency-Key')! },
      }),
    ),
  );
  session.take(await ask(api.POST('/api/v1/session/account', { body: { name: 'table', password: 'words' } })));
  expect([session.role, session.actor]).toEqual(['organiser', 'organiser-1']);
});
