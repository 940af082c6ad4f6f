import { openDB, type DBSchema } from 'idb';
import type { Kept } from './order';

/** Store keeps the queue. Orders come back in the order in which they were given. */
export interface Store {
  /** Whether what is kept outlives the page. */
  readonly lasting: boolean;
  all(): Promise<Kept[]>;
  add(order: Omit<Kept, 'n'>): Promise<Kept>;
  put(order: Kept): Promise<void>;
  remove(n: number): Promise<void>;
}

interface Schema extends DBSchema {
  orders: { key: number; value: Kept };
}

/**
 * openStore opens the phone's database. Where a browser has none for us, as in
 * some private windows, the queue lives in the page's memory and `lasting` is
 * false, so that the page can say so.
 */
export async function openStore(name = 'benchmeet-bench'): Promise<Store> {
  try {
    const db = await openDB<Schema>(name, 1, {
      upgrade: (made) => void made.createObjectStore('orders', { keyPath: 'n', autoIncrement: true }),
    });
    return {
      lasting: true,
      all: () => db.getAll('orders'),
      add: async (order) => {
        const n = await db.add('orders', order as Kept); // the database gives n
        return { ...order, n };
      },
      put: async (order) => void (await db.put('orders', order)),
      remove: (n) => db.delete('orders', n),
    };
  } catch {
    return memoryStore();
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
    put: async (order) => void orders.set(order.n, order),
    remove: async (n) => void orders.delete(n),
  };
}
