import { describe, expect, test } from 'vitest';
import { cut, page, problem, receipt } from '../../../test/answers';
import { confirmReady, handCount, type Kept, type LanePlace } from './order';
import { send, type Outcome } from './send';

const at: LanePlace = { meet: 'spring', heat: 'junior-1.1.1', bench: 'b1', entry: 'e7', number: 7 };
const key = '0190a000-0000-7000-8000-000000000001';
const other = '0190a000-0000-7000-8000-000000000002';
const order: Kept = { ...confirmReady(at, 7), n: 1, key, given: 0 };
const soon = { silence: 30, order: 60 };
const lanes = (lane: object) =>
  new Response(
    JSON.stringify({
      heats: [{ id: at.heat, lanes: [{ racer: { entry: 'e7', start_number: 7 }, bench: 'b1', ...lane }] }],
    }),
    {
      headers: { 'Content-Type': 'application/json' },
    },
  );

describe('an answer of the server', () => {
  const cases: [name: string, answer: () => Response, want: Outcome][] = [
    ['carried out', () => receipt(key), 'done'],
    ['carried out before', () => receipt(key, {}, { 'Order-Again': 'true' }), 'done'],
    ['a no that stays', () => problem(key, 409, 'wrong-car'), { code: 'wrong-car', says: 'No: wrong-car.' }],
    [
      'another bench’s token',
      () => problem(key, 403, 'not-your-bench'),
      { code: 'not-your-bench', says: 'No: not-your-bench.' },
    ],
    ['a token that is not valid any more', () => problem(key, 401, 'bad-token'), 'sign-in'],
    ['too much to do', () => problem(key, 429, 'busy'), 'later'],
    ['starting', () => problem(key, 503, 'starting'), 'later'],
    ['failed at it', () => problem(key, 500, 'internal'), 'failed'],
  ];
  test.each(cases)('%s', async (_, answer, want) => {
    expect(await send(order, async () => answer(), undefined, soon)).toEqual(want);
  });

  test('carries the key and exactly the kept body', async () => {
    let seen: RequestInit | undefined;
    await send(order, async (_, init) => ((seen = init), receipt(key)));
    expect(new Headers(seen?.headers).get('Idempotency-Key')).toBe(key);
    expect(new Headers(seen?.headers).has('Order-Withdraw')).toBe(false);
    expect(seen?.body).toBe(order.body);
  });

  test('one that ends is taken back, not sent', async () => {
    let seen: RequestInit | undefined;
    await send({ ...order, ends: { why: 'taken-back' } }, async (_, init) => ((seen = init), receipt(key)));
    expect(new Headers(seen?.headers).get('Order-Withdraw')).toBe('true');
  });
});

describe('what is no answer of the server never ends an order', () => {
  const whole = JSON.stringify({ seq: 1, head: 'ab', events: [], order: key });
  const json = (body: string, status = 200, headers: Record<string, string> = { 'Idempotency-Key': key }) =>
    new Response(body, {
      status,
      headers: { 'Content-Type': status < 400 ? 'application/json' : 'application/problem+json', ...headers },
    });
  const cases: [name: string, answer: () => Response | Promise<Response>][] = [
    ['a log-in page', () => page(200)],
    ['a log-in page that calls itself JSON', () => json('<html>', 200)],
    ['a page that says no', () => page(403)],
    ['a page that says there is nothing', () => page(404)],
    ['a page that asks who you are', () => page(401)],
    ['a proxy without a server', () => page(502)],
    ['a proxy while the server starts', () => page(503)],
    ['an empty yes', () => new Response(null, { status: 200 })],
    ['a yes without content', () => new Response(null, { status: 204 })],
    ['a receipt for another order', () => receipt(other)],
    ['a receipt for another order under this one’s name', () => json(whole.replace(key, other))],
    ['a receipt that names no order', () => json(whole, 200, {})],
    ['a no to another order', () => problem(other, 409, 'wrong-car')],
    ['a no that names no order', () => problem(null, 409, 'wrong-car')],
    ['a no whose status is another', () => json(JSON.stringify({ status: 409, code: 'x', detail: 'No.' }), 403)],
    ['JSON that is no receipt', () => json('{}')],
    ['JSON that is no object', () => json('[1]')],
    ['half a receipt, and the break is told', () => cut(receipt(key), 20, 'told')],
    ['half a receipt that ends as if it were whole', () => cut(receipt(key), 20, 'silent')],
    ['half a receipt, and then silence', () => cut(receipt(key), 20, 'hangs')],
    ['no network', () => Promise.reject(new TypeError('Failed to fetch'))],
    ['silence', () => new Promise<never>(() => {})],
  ];
  test.each(cases)('%s', async (_, answer) => {
    expect(await send(order, async () => answer(), undefined, soon)).toMatch(/^(later|strange)$/);
  });

  test('and a try that hangs can be given up', async () => {
    const stop = new AbortController();
    const sending = send(order, () => new Promise(() => {}), stop.signal);
    stop.abort();
    expect(await sending).toBe('later');
  });
});

describe('an order that is late', () => {
  const refusedThen = (lane: object | Response) => async (path: RequestInfo | URL) =>
    path === order.path || path === count.path
      ? problem(key, 409, 'hand-not-racing')
      : lane instanceof Response
        ? lane
        : lanes(lane);
  const count: Kept = { ...handCount(at, { distance: 21, uncertainty: 1 }, new Date(0)), n: 2, key, given: 0 };
  const no = { code: 'hand-not-racing', says: 'No: hand-not-racing.' };

  test('and whose count a run has overtaken is said to have come true', async () => {
    expect(await send(count, refusedThen({ state: 'done', run: 'r' }))).toEqual({ ...no, kind: 'already' });
  });

  test.each([{ state: 'waiting' }, { state: 'called' }, { state: 'done', status: 'disqualified' }])(
    'is refused where it has not come true: %o',
    async (lane) => {
      expect(await send(count, refusedThen(lane))).toEqual(no);
    },
  );

  test('is refused where nobody can say', async () => {
    expect(await send(count, refusedThen(page(200)), undefined, soon)).toEqual(no);
  });
});
