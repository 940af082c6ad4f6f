import 'fake-indexeddb/auto';
import { describe, expect, test } from 'vitest';
import { armPractice, askRerun, confirmReady, handCount, type Kept, type LanePlace } from './order';
import { OrderQueue, type Outside } from './queue.svelte';
import { send, type Outcome } from './send';
import { memoryStore, openStore } from './store';

const at: LanePlace = { meet: 'spring', heat: 'junior-1.1.1', bench: 'b1', entry: 'e7', number: 7 };
let databases = 0;

/** A server that carries an order out once per key, and a network that can be cut. */
function world(database = `queue-${++databases}`) {
  const done: Kept[] = [];
  const tried: string[] = [];
  const timers: (() => void)[] = [];
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
    now: () => 1_800_000_000_000,
    after: (_, then) => timers.push(then),
    cancel: () => {},
  };
  return {
    done,
    tried,
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
    await queue.put(confirmReady(at, 7));
    await queue.flush();
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
