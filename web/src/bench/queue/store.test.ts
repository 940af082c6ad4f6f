import 'fake-indexeddb/auto';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { confirmReady, type LanePlace } from './order';
import { OrderQueue, type Outside } from './queue.svelte';
import type { Outcome } from './send';
import { memoryStore, openStore, type Store } from './store';
import { openTabs } from './tabs';

const at: LanePlace = { meet: 'spring', heat: 'junior-1.1.1', bench: 'b1', entry: 'e7', number: 7 };
let databases = 0;
afterEach(() => void vi.useRealTimers());

describe('the phone’s store', () => {
  const outside = (open: () => Promise<Store>, sent: string[], outcome: Outcome = 'done'): Outside => ({
    open,
    send: async (order) => (sent.push(order.kind), outcome),
    now: () => Date.now(),
    after: (ms, then) => setTimeout(then, ms),
    cancel: (timer) => clearTimeout(timer as NodeJS.Timeout),
  });

  test('may hang when it is opened: the order goes from memory, and moves over when it opens after all', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'Date'] });
    let open!: (store: Store) => void;
    const sent: string[] = [];
    const queue = new OrderQueue(outside(() => new Promise((there) => (open = there)), sent, 'later'));
    const put = queue.put(confirmReady(at, 7));
    await vi.advanceTimersByTimeAsync(3_000);
    await put;
    expect(queue.lasting).toBe(false);
    expect(queue.unsent).toHaveLength(1);
    const late = { ...memoryStore(), lasting: true };
    open(late);
    await vi.advanceTimersByTimeAsync(100);
    expect(queue.lasting).toBe(true);
    expect((await late.all()).map((order) => order.key)).toEqual(queue.unsent.map((order) => order.key));
  });

  test('may hang when it is written to: the order goes from memory, and that is said', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'Date'] });
    const sent: string[] = [];
    const queue = new OrderQueue(
      outside(async () => ({ ...memoryStore(), lasting: true, add: () => new Promise(() => {}) }), sent),
    );
    const put = queue.put(confirmReady(at, 7));
    await vi.advanceTimersByTimeAsync(3_000);
    await put;
    await queue.flush();
    expect(queue.lasting).toBe(false);
    expect(sent).toEqual(['ready']);
  });

  test('that another page blocks is given up in time', async () => {
    const name = `store-${++databases}`;
    // A page of an older build holds the store and does not let go; a newer one has asked for another version.
    const held = indexedDB.open(name, 1);
    await new Promise((there) => (held.onsuccess = there));
    indexedDB.open(name, 2);
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    const opening = openStore(name);
    await vi.advanceTimersByTimeAsync(3_000);
    expect((await opening).lasting).toBe(false);
    held.result.close();
  });

  test('does not stand in the way of a newer page', async () => {
    const name = `store-${++databases}`;
    const store = await openStore(name);
    const newer = indexedDB.open(name, 2);
    await new Promise((there, blocked) => ([newer.onsuccess, newer.onblocked] = [there, blocked]));
    newer.result.close();
    await expect(store.all()).rejects.toThrow(); // and its orders are sent from memory, see above
  });
});

describe('the tabs of a phone', () => {
  test('take turns: one has it until it gives it away, or is silent for too long', async () => {
    let now = 1_000;
    const name = `store-${++databases}`;
    const [one, other] = [openTabs(name, () => now), openTabs(name, () => now)];
    expect(await one.take(4_000)).toBe(true);
    expect(await other.take(4_000)).toBe(false);
    expect(await one.take(4_000)).toBe(true);
    await other.give(); // not its own
    expect(await other.take(4_000)).toBe(false);
    await one.give();
    expect(await other.take(4_000)).toBe(true);
    now += 4_001;
    expect(await one.take(4_000)).toBe(true);
  });

  test('show each other’s orders and what became of them', async () => {
    const name = `store-${++databases}`;
    let outcome: Outcome = 'later';
    const sent: string[] = [];
    const page = () =>
      new OrderQueue({
        open: () => openStore(name),
        send: async (order) => (sent.push(order.key), outcome),
        now: () => Date.now(),
        after: () => 0,
        cancel: () => {},
        tabs: () => openTabs(name),
      });
    const [one, other] = [page(), page()];
    await one.put(confirmReady(at, 7));
    await vi.waitFor(() => expect(other.unsent).toHaveLength(1));
    const told: string[] = [];
    one.onDone((order) => told.push(order.kind));
    outcome = 'done';
    await other.flush();
    await vi.waitFor(() => expect(one.unsent).toEqual([]));
    await vi.waitFor(() => expect(told).toEqual(['ready']));
    expect(new Set(sent).size).toBe(1);
  });
});
