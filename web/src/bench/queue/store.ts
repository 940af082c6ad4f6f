import { ours } from '$lib/ahead/root';
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { Step } from './life';
import type { Kept } from './order';
import { within } from './within';

/** Store keeps the queue. Orders come back in the order in which they were given. */
export interface Store {
  /** Whether what is kept outlives the page. */
  readonly lasting: boolean;
  all(): Promise<Kept[]>;
  add(order: Omit<Kept, 'n'>): Promise<Kept>;
  /**
   * change does a step with an order as it is kept now, and gives what came of it; undefined where it is gone, or was
   * before. No other page comes in between.
   */
  change(n: number, step: Step): Promise<Kept | undefined>;
}

interface Schema extends DBSchema {
  orders: { key: number; value: Kept };
}

/** How long the phone's store may take for anything, in ms. */
export const storeWithinMs = 3_000;

/**
 * openStore opens the phone's database. Where a browser has none for us, as in
 * some private windows, or where it does not answer in time, the queue lives in the
 * page's memory and `lasting` is false, so that the page can say so. The database
 * does not stand in the way of a newer page that wants to change it, and is opened
 * again when the browser has closed it.
 */
export async function openStore(name = ours('benchmeet-bench')): Promise<Store> {
  const opened = new Opened(name);
  try {
    await opened.use(async () => {});
  } catch {
    return memoryStore();
  }
  return {
    lasting: true,
    all: () => opened.use((db) => db.getAll('orders')),
    add: (order) =>
      opened.use(async (db) => {
        const n = await db.add('orders', order as Kept); // the database gives n
        return { ...order, n };
      }),
    change: (n, step) =>
      opened.use(async (db) => {
        const change = db.transaction('orders', 'readwrite');
        const now = await change.store.get(n);
        const next = now && step(now);
        if (now && !next) await change.store.delete(n);
        if (next && next !== now) await change.store.put(next);
        await change.done;
        return next;
      }),
  };
}

/** Opened is the database while it is open. */
class Opened {
  #db: Promise<IDBPDatabase<Schema>> | undefined;

  constructor(readonly name: string) {}

  /** use does something with the database, opening it if need be; all in time, or it throws. */
  use<T>(what: (db: IDBPDatabase<Schema>) => Promise<T>): Promise<T> {
    return within(storeWithinMs, this.#open().then(what));
  }

  #open(): Promise<IDBPDatabase<Schema>> {
    if (this.#db) return this.#db;
    const lost = () => (this.#db = undefined);
    const opening = openDB<Schema>(this.name, 1, {
      upgrade: (made) => void made.createObjectStore('orders', { keyPath: 'n', autoIncrement: true }),
      blocking: (_, __, event) => {
        (event.target as IDBDatabase).close();
        lost();
      },
      terminated: lost,
    });
    opening.catch(lost);
    return (this.#db = opening);
  }
}

/** memoryStore keeps the queue as long as the page lives. */
export function memoryStore(): Store {
  const orders = new Map<number, Kept>();
  let last = 0;
  return {
    lasting: false,
    all: async () => [...orders.values()],
    add: async (order) => {
      const kept = { ...order, n: ++last };
      orders.set(kept.n, kept);
      return kept;
    },
    change: async (n, step) => {
      const now = orders.get(n);
      const next = now && step(now);
      if (next) orders.set(n, next);
      else orders.delete(n);
      return next;
    },
  };
}
