import 'fake-indexeddb/auto';
import { describe, expect, test } from 'vitest';
import { armPractice, askRerun, confirmReady, handCount, type Kept, type LanePlace } from './order';
import { OrderQueue, type Outside } from './queue.svelte';
import type { Outcome } from './send';
import { memoryStore, openStore } from './store';

const at: LanePlace = { meet: 'spring', heat: 'junior-1.1.1', bench: 'b1', entry: 'e7', number: 7 };
let databases = 0;

/** A server that carries an order out once per key, and a network that can be cut. */
function world(database = `queue-${++databases}`) {
  const done: Kept[] = [];
  const tried: string[] = [];
  const timers: (() => void)[] = [];
  let clock = 1_800_000_000_000;
  let network: 'there' | 'cut' | 'answers-lost' = 'there';
  let no: ((order: Kept) => Outcome | undefined) | undefined;
  const outside: Outside = {
    open: () => openStore(database),
    send: async (order) => {
      tried.push(order.key);
      if (network === 'cut') return 'later';
      const outcome = no?.(order) ?? 'done';
      if (outcome === 'done' && !done.some((one) => one.key === order.key)) done.push(order);
      return network === 'answers-lost' ? 'later' : outcome;
    },
    now: () => clock,
    after: (_, then) => timers.push(then),
    cancel: () => {},
  };
  return {
    done,
    tried,
    pass: (ms: number) => void (clock += ms),
    open: () => new OrderQueue(outside),
    network: (to: typeof network) => (network = to),
    refuse: (how: typeof no) => (no = how),
    /** later lets the waiting tries happen. */
    later: () => timers.splice(0).forEach((then) => then()),
  };
}

test('a pack that was read goes along with the car; without one nothing is said of it', () => {
  expect(confirmReady(at, 7, 'C3').body).toBe('{"bench":"b1","start_number":7,"pack":"C3"}');
  expect(confirmReady(at, 7, '').body).toBe('{"bench":"b1","start_number":7}');
});

describe('OrderQueue', () => {
  test('sends at once, and forgets what was carried out', async () => {
    const w = world();
    const queue = w.open();
    // Told while it is still among the unsent ones: a page shows it in one place or the other at any moment.
    const told: Kept[][] = [];
    queue.onDone(() => told.push(queue.unsent));
    await queue.put(confirmReady(at, 7));
    await queue.flush();
    expect(told).toMatchObject([[{ kind: 'ready', entry: 'e7' }]]);
    expect(w.done.map((o) => [o.path, o.body])).toEqual([
      ['/api/v1/meets/spring/heats/junior-1.1.1/ready', '{"bench":"b1","start_number":7}'],
    ]);
    expect(queue.unsent).toEqual([]);
  });

  test('keeps what cannot be sent, counts it, and sends it in order when the network is back', async () => {
    const w = world();
    w.network('cut');
    const queue = w.open();
    await queue.put(confirmReady(at, 7));
    await queue.put(askRerun(at, 'power', ''));
    await queue.put(armPractice('b2', 20, 12));
    await queue.flush();
    expect(queue.unsent.map((o) => o.kind)).toEqual(['ready', 'rerun', 'practice']);
    expect(queue.unsent[0]?.given).toBe(1_800_000_000_000);

    w.network('there');
    w.later();
    await queue.flush();
    expect(w.done.map((o) => o.kind)).toEqual(['ready', 'rerun', 'practice']);
    expect(queue.unsent).toEqual([]);
  });

  test('survives the death of the page, with the same keys', async () => {
    const w = world();
    w.network('cut');
    const before = w.open();
    await before.put(confirmReady(at, 7));
    await before.put(handCount(at, { distance: 31, uncertainty: 0.2887 }, new Date(0)));
    await before.flush();
    const keys = before.unsent.map((o) => o.key);

    w.network('there');
    const after = w.open();
    await after.flush();
    expect(w.done.map((o) => o.key)).toEqual(keys);
    expect(await (await openStore(`queue-${databases}`)).all()).toEqual([]);
  });

  test('an answer that got lost does not make it happen twice', async () => {
    const w = world();
    w.network('answers-lost');
    const queue = w.open();
    await queue.put(armPractice('b1', 10, undefined));
    await queue.flush();
    expect(queue.unsent).toHaveLength(1);

    w.network('there');
    queue.hurry();
    await queue.flush();
    expect(new Set(w.tried).size).toBe(1);
    expect(w.tried.length).toBeGreaterThan(1);
    expect(w.done).toHaveLength(1);
    expect(queue.unsent).toEqual([]);
  });

  test('a refused order is kept with its sentence until it is dismissed, and holds up nothing', async () => {
    const w = world();
    w.refuse((order) => (order.kind === 'ready' ? { code: 'paused', says: 'The meet is paused.' } : undefined));
    const queue = w.open();
    await queue.put(confirmReady(at, 7));
    await queue.put(askRerun(at, 'power', 'a fuse'));
    await queue.flush();
    expect(w.done.map((o) => o.kind)).toEqual(['rerun']);
    expect(queue.refused.map((o) => o.refused?.says)).toEqual(['The meet is paused.']);

    const again = w.open();
    await again.flush();
    expect(again.refused).toHaveLength(1);
    await again.dismiss(again.refused[0]!.n);
    expect(again.refused).toEqual([]);
    const last = w.open();
    await last.flush();
    expect(last.refused).toEqual([]);
  });

  test('waits for a sign-in rather than lose an order', async () => {
    const w = world();
    w.refuse(() => 'sign-in');
    const queue = w.open();
    await queue.put(confirmReady(at, 7));
    await queue.flush();
    expect(queue.needsSignIn).toBe(true);
    expect(queue.unsent).toHaveLength(1);

    w.refuse(undefined);
    queue.hurry();
    await queue.flush();
    expect(queue.needsSignIn).toBe(false);
    expect(w.done).toHaveLength(1);
  });

  test('two pages of one phone do not double an order', async () => {
    const w = world();
    w.network('cut');
    const one = w.open();
    await one.put(confirmReady(at, 7));
    const other = w.open();
    await Promise.all([one.flush(), other.flush()]);
    w.network('there');
    one.hurry();
    other.hurry();
    await Promise.all([one.flush(), other.flush()]);
    expect(w.done).toHaveLength(1);
  });

  test('without a database it works from memory and says so', async () => {
    const sent: string[] = [];
    const queue = new OrderQueue({
      open: async () => memoryStore(),
      send: async (order) => (sent.push(order.kind), 'done'),
      now: () => 0,
      after: () => 0,
      cancel: () => {},
    });
    await queue.put(armPractice('b1', 10, undefined));
    await queue.flush();
    expect(queue.lasting).toBe(false);
    expect(sent).toEqual(['practice']);
  });
});

describe('an order that the server does not take', () => {
  test('lets those behind it go ahead, is called stuck, and goes through once it is taken', async () => {
    const w = world();
    w.refuse((order) => (order.kind === 'ready' ? 'failed' : undefined));
    const queue = w.open();
    await queue.put(confirmReady(at, 7));
    await queue.put(askRerun(at, 'power', ''));
    for (let round = 0; round < 3; round++) {
      await queue.flush();
      w.later();
    }
    await queue.flush();
    expect(w.done.map((o) => o.kind)).toEqual(['rerun']);
    expect(queue.unsent.map((o) => [o.kind, queue.stuck(o)])).toEqual([['ready', true]]);

    await queue.put(handCount(at, { distance: 31, uncertainty: 0.3 }, new Date(0)));
    await queue.flush();
    expect(w.done.map((o) => o.kind)).toEqual(['rerun', 'hand']); // one that comes later need not wait at all

    w.refuse(undefined);
    queue.hurry();
    await queue.flush();
    expect(w.done.map((o) => o.kind)).toEqual(['rerun', 'hand', 'ready']);
    expect(queue.unsent).toEqual([]);
  });

  test('is not called stuck while the network is away', async () => {
    const w = world();
    w.network('cut');
    const queue = w.open();
    await queue.put(confirmReady(at, 7));
    await queue.put(askRerun(at, 'power', ''));
    for (let round = 0; round < 6; round++) {
      await queue.flush();
      w.later();
    }
    await queue.flush();
    expect(queue.unsent.map((o) => queue.stuck(o))).toEqual([false, false]);
    w.network('there');
    queue.hurry();
    await queue.flush();
    expect(w.done.map((o) => o.kind)).toEqual(['ready', 'rerun']); // in the order in which they were given
  });
});

describe('an order that waited', () => {
  test.each([
    ['practice', () => armPractice('b1', 10, 7), 61_000],
    ['ready', () => confirmReady(at, 7), 301_000],
  ])('%s: too long, and was never tried: it is not sent and said to be too old', async (_, draft, ms) => {
    const w = world();
    w.refuse(() => 'sign-in');
    const queue = w.open();
    await queue.put(askRerun(at, 'power', '')); // holds it up before its first try
    await queue.put(draft());
    await queue.flush();
    w.pass(ms);
    w.refuse(undefined);
    queue.hurry();
    await queue.flush();
    expect(w.done.map((o) => o.kind)).toEqual(['rerun']);
    expect(queue.refused.map((o) => o.refused?.kind)).toEqual(['too-old']);
  });

  test('too long after a try is taken back rather than sent', async () => {
    const w = world();
    w.network('answers-lost');
    w.refuse(() => 'later');
    const queue = w.open();
    await queue.put(armPractice('b1', 10, 7));
    await queue.flush();
    w.pass(61_000);
    const asked: (string | undefined)[] = [];
    w.network('there');
    w.refuse((order) => (asked.push(order.ends?.why), { code: 'order-withdrawn', says: '' }));
    queue.hurry();
    await queue.flush();
    expect(asked).toEqual(['too-old']);
    expect(queue.refused.map((o) => o.refused?.kind)).toEqual(['too-old']);
  });

  test.each([
    ['a request for a re-run', () => askRerun(at, 'power', '')],
    ['a count', () => handCount(at, { distance: 31, uncertainty: 0.3 }, new Date(0))],
  ])('%s is right however late it comes', async (_, draft) => {
    const w = world();
    w.network('cut');
    const queue = w.open();
    await queue.put(draft());
    await queue.flush();
    w.pass(4 * 3_600_000);
    w.network('there');
    queue.hurry();
    await queue.flush();
    expect(w.done).toHaveLength(1);
    expect(queue.refused).toEqual([]);
  });
});

describe('an order that is taken back', () => {
  test('goes at once where no try of it was begun', async () => {
    const w = world();
    w.refuse(() => 'sign-in');
    const queue = w.open();
    await queue.put(askRerun(at, 'power', ''));
    await queue.put(armPractice('b1', 10, 7));
    await queue.flush();
    const gone: string[] = [];
    queue.onGone((order) => gone.push(order.kind));
    await queue.takeBack(queue.unsent[1]!.n);
    expect(gone).toEqual(['practice']);
    expect(queue.unsent.map((o) => o.kind)).toEqual(['rerun']);
    const again = w.open();
    w.refuse(undefined);
    await again.flush();
    expect(w.done.map((o) => o.kind)).toEqual(['rerun']);
  });

  test.each<[string, Outcome, string[], string[]]>([
    ['the server never had it', { code: 'order-withdrawn', says: '' }, [], ['rerun']],
    ['the server had carried it out', 'done', ['done'], []],
    ['nobody can say', { code: 'not-your-bench', says: 'No.' }, ['unknown'], []],
  ])('after a try is asked about: %s', async (_, answer, shown, gone) => {
    const w = world();
    w.network('cut');
    const queue = w.open();
    const left: string[] = [];
    queue.onGone((order) => left.push(order.kind));
    await queue.put(askRerun(at, 'power', ''));
    await queue.flush();
    w.network('there');
    w.refuse((order) => (order.ends ? answer : 'later'));
    await queue.takeBack(queue.unsent[0]!.n);
    await queue.flush();
    expect(queue.unsent).toEqual([]);
    expect(queue.refused.map((o) => o.refused?.kind)).toEqual(shown);
    expect(left).toEqual(gone);
  });
});

test('a no after a try without an answer is true: that try is taken back first', async () => {
  const w = world();
  w.network('cut');
  const queue = w.open();
  await queue.put(confirmReady(at, 7));
  await queue.flush();
  const asked: (string | undefined)[] = [];
  w.network('there');
  w.refuse(
    (order) => (
      asked.push(order.ends?.why),
      order.ends ? { code: 'order-withdrawn', says: '' } : { code: 'paused', says: 'The meet is paused.' }
    ),
  );
  queue.hurry();
  await queue.flush();
  expect(asked).toEqual([undefined, 'refused']);
  expect(queue.refused.map((o) => o.refused)).toEqual([{ code: 'paused', says: 'The meet is paused.' }]);
});
