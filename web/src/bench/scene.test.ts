import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { answerTo, type Ask } from './asks.svelte';
import { fromLaps, fromMetres } from './hand';
import { confirmReady, handCount, takeReadyBack, wantOfficial, type Kept } from './queue';
import { askedFor, lastDone, newestOrder, sceneOf, wants, type Facts } from './scene';

const racer = { entry: 'e7', start_number: 7, display_name: 'Lantern' };
const at = { meet: 'spring', heat: 'junior-1.1.1', bench: 'b2', entry: 'e7', number: 7 };
const free: Schema['BenchOrder'] = { bench: 'b2', number: 2, kind: 'free', out_of_service: false };
const order = (state: NonNullable<Schema['BenchOrder']['state']>): Schema['BenchOrder'] => ({
  ...free,
  kind: 'heat',
  meet: 'spring',
  heat: 'junior-1.1.1',
  entry: 'e7',
  start_number: 7,
  display_name: 'Lantern',
  state,
  run: 'junior-1.1.1-L2-1',
  race_s: 20,
  lap_m: 1,
});
const heat = (phase: Schema['Heat']['phase'], lane: Partial<Schema['Lane']>): Schema['Heat'] => ({
  id: 'junior-1.1.1',
  division: 'junior',
  stage: 1,
  round: 1,
  number: 1,
  phase,
  deadline: '2027-04-17T10:00:30Z',
  lanes: [
    { racer: { entry: 'e9', start_number: 9 }, bench: 'b1', state: 'done', run: 'junior-1.1.1-L1-1' },
    { racer, bench: 'b2', state: 'called', ...lane },
  ],
});
const board = (lists: Partial<Schema['Board']>): Schema['Board'] => ({
  seq: 1,
  paused: false,
  racing: [],
  called: [],
  next: [],
  posted: [],
  ...lists,
});
const kept = (draft: ReturnType<typeof confirmReady>): Kept => ({ ...draft, n: 1, key: 'k', given: 0 });
const facts = (given: Partial<Facts>): Facts => ({
  bench: 'b2',
  order: free,
  meet: undefined,
  board: undefined,
  pending: [],
  late: [],
  ...given,
});

describe('sceneOf', () => {
  test('nothing is known before the first answer', () => {
    expect(sceneOf(facts({ order: undefined })).kind).toBe('waiting');
  });

  test('a bench without a number is none of the club', () => {
    expect(sceneOf(facts({ order: { bench: 'x', kind: 'free', out_of_service: false } })).kind).toBe('no-bench');
  });

  test('a called car, with the end of its call', () => {
    const scene = sceneOf(facts({ order: order('called'), board: board({ called: [heat('called', {})] }) }));
    expect(scene).toMatchObject({
      kind: 'called',
      lane: { at, name: 'Lantern', deadline: Date.parse('2027-04-17T10:00:30Z') },
    });
  });

  test('a confirmation that is not sent yet shows as ready', () => {
    const given = [kept(confirmReady(at, 7))];
    expect(sceneOf(facts({ order: order('called'), pending: given, late: given }))).toMatchObject({
      kind: 'ready',
      unsent: true,
    });
    expect(sceneOf(facts({ order: order('called'), pending: given }))).toMatchObject({ kind: 'ready', unsent: false });
  });

  test('a Ready that is taken back shows as called, and what is given last is how it is', () => {
    const nth = (n: number, draft: ReturnType<typeof confirmReady>): Kept => ({ ...kept(draft), n });
    const back = nth(2, takeReadyBack(at));
    expect(sceneOf(facts({ order: order('ready'), pending: [back] }))).toMatchObject({
      kind: 'called',
      takenBack: false,
    });
    expect(sceneOf(facts({ order: order('ready'), pending: [back], late: [back] }))).toMatchObject({
      kind: 'called',
      takenBack: true,
    });
    // What is sent stands behind what is not: here the first was carried out a moment ago.
    const both = [back, nth(1, confirmReady(at, 7))];
    expect(sceneOf(facts({ order: order('called'), pending: both })).kind).toBe('called');
    const again = [...both, nth(3, confirmReady(at, 7))];
    expect(sceneOf(facts({ order: order('called'), pending: again })).kind).toBe('ready');
    // No page can take back what has started.
    expect(sceneOf(facts({ order: order('racing'), pending: [back] })).kind).toBe('racing');
  });

  test('a confirmation for another heat does not', () => {
    const other = kept(confirmReady({ ...at, heat: 'junior-1.2.1' }, 7));
    expect(sceneOf(facts({ order: order('called'), pending: [other], late: [other] })).kind).toBe('called');
  });

  test('a count that is not sent yet', () => {
    const pending = [kept(handCount(at, { distance: 3, uncertainty: 1 }, new Date(0)))];
    expect(sceneOf(facts({ order: order('racing'), pending }))).toMatchObject({ kind: 'racing', counted: true });
  });

  test('out of service, with the reason of the meet', () => {
    const meet = { benches: [{ id: 'b2', number: 2, out_of_service: true, reason: 'bench-fault' }] } as Schema['Meet'];
    expect(sceneOf(facts({ order: { ...free, out_of_service: true }, meet }))).toMatchObject({
      kind: 'out',
      reason: 'bench-fault',
    });
  });

  test('a race goes on although the bench was taken out meanwhile', () => {
    expect(sceneOf(facts({ order: { ...order('racing'), out_of_service: true } })).kind).toBe('racing');
  });

  test('free: the last run, and who is next at this bench or at any', () => {
    const posted = heat('provisional', { state: 'done', run: 'r' });
    const drawn = { ...heat('drawn', { state: 'waiting' }), id: 'junior-1.2.1' };
    expect(sceneOf(facts({ board: board({ posted: [posted], next: [drawn] }) }))).toMatchObject({
      kind: 'free',
      done: { lane: { run: 'r' } },
      next: { racer: { start_number: 7 } },
    });
    const unplaced = { ...drawn, lanes: [{ racer, state: 'waiting' as const }] };
    expect(sceneOf(facts({ board: board({ next: [unplaced] }) }))).toMatchObject({
      next: { racers: [{ start_number: 7 }] },
    });
  });
});

describe('askedFor', () => {
  const since = '2027-04-17T10:04:00Z';
  const meet = { benches: [{ id: 'b2', number: 2, out_of_service: false, official_wanted: since }] } as Schema['Meet'];
  const given = (wanted: boolean): Kept => ({ ...wantOfficial('spring', 'b2', wanted), n: 1, key: 'k', given: 7 });

  test('is what the meet says, until something is given here', () => {
    expect(askedFor('b2', meet, [], [])).toEqual({ since: new Date(since), unsent: false });
    expect(askedFor('b1', meet, [], [])).toBeUndefined();
    expect(askedFor('b2', meet, [given(false)], [])).toBeUndefined();
    const ask = given(true);
    expect(askedFor('b2', undefined, [ask], [])).toEqual({ since: new Date(7), unsent: false });
    expect(askedFor('b2', undefined, [ask], [ask])).toEqual({ since: new Date(7), unsent: true });
    expect(askedFor('b1', undefined, [ask], [ask])).toBeUndefined();
    const back = { ...given(false), n: 2 };
    for (const both of [
      [ask, back],
      [back, ask], // one that was carried out stands behind one that is not sent
    ])
      expect(askedFor('b2', meet, both, [])).toBeUndefined();
  });
});

describe('newestOrder', () => {
  const asked = order('called');
  const cases: [
    name: string,
    asked: Schema['BenchOrder'] | undefined,
    fed: Schema['BenchOrder'] | undefined,
    want: Schema['BenchOrder'] | undefined,
  ][] = [
    ['the feed is quicker', asked, order('racing'), order('racing')],
    ['the heat is over by the feed', asked, free, free],
    ['a heat of another meet', { ...asked, meet: 'autumn' }, free, { ...asked, meet: 'autumn' }],
    ['practice is known by asking alone', { ...free, kind: 'practice' }, free, { ...free, kind: 'practice' }],
    ['no feed', asked, undefined, asked],
  ];
  test.each(cases)('%s', (_, a, fed, want) => expect(newestOrder(a, fed, 'spring')).toEqual(want));
});

test('lastDone looks at heats that still race first', () => {
  const racing = { ...heat('racing', {}), id: 'junior-1.2.1' };
  expect(lastDone(board({ posted: [heat('provisional', {})], racing: [racing] }), 'b1')?.heat.id).toBe('junior-1.2.1');
});

test('wants tells the plates of a phone which bench needs somebody', () => {
  const called = board({ called: [heat('called', {})] });
  expect([wants(called, 'b1'), wants(called, 'b2'), wants(undefined, 'b2')]).toEqual([undefined, 'called', undefined]);
});

describe('answerTo', () => {
  const ask: Ask = { ...at, run: 'junior-1.1.1-L2-1', seen: true };
  const done = (lane: Partial<Schema['Lane']>) =>
    board({ posted: [heat('provisional', { state: 'done', run: 'junior-1.1.1-L2-1', ...lane })] });
  const cases: [name: string, ask: Ask, board: Schema['Board'] | undefined, unsent: boolean, want: string][] = [
    ['not sent', ask, done({}), true, 'unsent'],
    ['the board has it', ask, done({ rerun_asked: 'power' }), false, 'waiting'],
    ['the board has not caught up', { ...ask, seen: false }, done({}), false, 'waiting'],
    ['turned down', ask, done({}), false, 'stands'],
    ['granted', ask, board({ next: [heat('drawn', { state: 'waiting' })] }), false, 'granted'],
    [
      'granted, and called again',
      ask,
      board({ called: [heat('called', { armed: 'junior-1.1.1-L2-2' })] }),
      false,
      'granted',
    ],
    ['counted by hand, then turned down', ask, done({ run: 'junior-1.1.1-L2-1-hand' }), false, 'stands'],
    ['official by now', ask, board({}), false, 'stands'],
  ];
  test.each(cases)('%s', (_, a, b, unsent, want) => expect(answerTo(a, b, unsent)).toBe(want));
});

describe('hand counts', () => {
  test('whole laps: a rectangular distribution one lap wide (JCGM 100:2008, 4.3.7)', () => {
    expect(fromLaps(31, 3)?.distance).toBe(93);
    expect(fromLaps(31, 3)?.uncertainty).toBeCloseTo(3 / Math.sqrt(12), 12);
  });
  test('metres give or take: half a width of it to either side', () => {
    expect(fromMetres(40, 1)?.uncertainty).toBeCloseTo(1 / Math.sqrt(3), 12);
  });
  const none: [name: string, count: unknown][] = [
    ['no laps', fromLaps(0, 3)],
    ['half a lap', fromLaps(2.5, 3)],
    ['nothing typed', fromLaps(undefined, 3)],
    ['no metres', fromMetres(0, 1)],
    ['no give', fromMetres(3, 0)],
  ];
  test.each(none)('%s is no count', (_, count) => expect(count).toBeUndefined());
});
