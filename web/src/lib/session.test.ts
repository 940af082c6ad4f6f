import { beforeEach, expect, test, vi } from 'vitest';
import { api, ask } from './api';
import { session } from './session.svelte';

type Who = { role: string; actor?: string; benches: string[] };
const organiser: Who = { role: 'organiser', actor: 'organiser-1', benches: [] };
const phone: Who = { role: 'bench', actor: 'bench-1', benches: ['b1'] };
const nobody: Who = { role: 'public', benches: [] };
const tokens: Record<string, Who> = { own: organiser, other: phone };

/** A server that knows two tokens; `cookie` is whose cookie the browser has. */
let cookie: Who;
let listening: boolean;
beforeEach(() => {
  [cookie, listening] = [nobody, true];
  location.hash = '';
  vi.stubGlobal('fetch', async (request: Request) => {
    if (!listening) throw new TypeError('Failed to fetch');
    const key = request.headers.get('Idempotency-Key');
    const give = (status: number, body: unknown) =>
      new Response(JSON.stringify(body), { status, headers: { 'Content-Type': status < 400 ? 'application/json' : 'application/problem+json', ...(key && { 'Idempotency-Key': key }) } });
    const refuse = (code: string) => give(401, { type: '', title: '', status: 401, code, detail: `No: ${code}.` });
    const bearer = request.headers.get('Authorization')?.replace('Bearer ', '');
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
  expect([session.role, session.benches, cookie, session.offer]).toEqual(['bench', ['b1'], phone, undefined]);
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
