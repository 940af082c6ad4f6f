import { uuidv7 } from '$lib/api';
import type { Draft, Kept } from './order';
import { send, type Outcome } from './send';
import { memoryStore, openStore, type Store } from './store';

/** Outside is what the queue needs from the browser; tests give their own. */
export interface Outside {
  open(): Promise<Store>;
  send(order: Kept): Promise<Outcome>;
  now(): number;
  after(ms: number, then: () => void): unknown;
  cancel(timer: unknown): void;
}

const browser: Outside = {
  open: openStore,
  send,
  now: () => Date.now(),
  after: (ms, then) => setTimeout(then, ms),
  cancel: (timer) => clearTimeout(timer as ReturnType<typeof setTimeout>),
};

/** Waits between tries in a row, in ms; the last one stays. */
const waits = [1_000, 2_000, 4_000, 8_000];

/**
 * OrderQueue sends what the volunteer ordered: each order is kept on the phone
 * first, with its key, and goes only when the server has answered. They are sent
 * one after the other, in the order in which they were given, whatever bench or
 * meet they are about; after a reload it goes on with what is there. A refused
 * order does not hold up those behind it and stays until it is dismissed.
 */
export class OrderQueue {
  #kept = $state.raw<Kept[]>([]);
  /** False where the phone cannot keep orders beyond this page. */
  lasting = $state(true);
  /** The server does not know this phone any more; orders wait for a new sign-in. */
  needsSignIn = $state(false);
  readonly #outside: Outside;
  readonly #ready: Promise<Store>;
  #told: ((order: Kept) => void)[] = [];
  #sending: Promise<void> | undefined;
  #timer: unknown;
  #tries = 0;

  constructor(outside: Outside = browser) {
    this.#outside = outside;
    this.#ready = this.#open();
    globalThis.addEventListener?.('online', this.hurry);
  }

  /** unsent are the orders without an answer, oldest first. */
  get unsent(): Kept[] {
    return this.#kept.filter((order) => !order.refused);
  }

  /** refused are the orders that the server turned down, until they are dismissed. */
  get refused(): Kept[] {
    return this.#kept.filter((order) => order.refused);
  }

  /** put keeps an order and sends it as soon as it is its turn. It resolves once the order is kept. */
  async put(draft: Draft): Promise<void> {
    const store = await this.#ready;
    const order = { ...draft, key: uuidv7(), given: this.#outside.now() };
    let kept: Kept;
    try {
      kept = await store.add(order);
    } catch {
      // The phone's storage is full or was taken away: better sent from memory than lost.
      this.lasting = false;
      kept = { ...order, n: Number.MAX_SAFE_INTEGER - Math.floor(this.#outside.now() % 1e9) };
    }
    this.#kept = [...this.#kept, kept];
    void this.flush();
  }

  /** dismiss takes a refused order away: off the phone first, so that it does not come back with a reload. */
  async dismiss(n: number): Promise<void> {
    if (!this.refused.some((order) => order.n === n)) return;
    await (await this.#ready).remove(n).catch(() => {}); // then it only goes from the page
    this.#kept = this.#kept.filter((order) => order.n !== n);
  }

  /** onDone has a function called with every order that was carried out. */
  onDone(then: (order: Kept) => void): () => void {
    this.#told.push(then);
    return () => (this.#told = this.#told.filter((one) => one !== then));
  }

  /** hurry tries now rather than at the next turn: the network or the sign-in is back. */
  hurry = (): void => {
    this.#tries = 0;
    void this.flush();
  };

  /** flush sends what is unsent until it is through or no answer comes. */
  flush(): Promise<void> {
    this.#sending ??= this.#sendAll();
    return this.#sending;
  }

  async #open(): Promise<Store> {
    let store = await this.#outside.open();
    try {
      this.#kept = await store.all();
    } catch {
      store = memoryStore();
    }
    this.lasting = store.lasting;
    if (this.unsent.length > 0) this.#outside.after(0, () => void this.flush());
    return store;
  }

  async #sendAll(): Promise<void> {
    const store = await this.#ready;
    this.#outside.cancel(this.#timer);
    try {
      await this.#sendFrom(store);
    } finally {
      this.#sending = undefined; // in the same turn, so that no order falls between two flushes
    }
  }

  async #sendFrom(store: Store): Promise<void> {
    for (let next = this.unsent[0]; next; next = this.unsent[0]) {
      const order = next;
      const outcome = await this.#outside.send(order);
      if (outcome === 'later' || outcome === 'sign-in') {
        this.needsSignIn = outcome === 'sign-in';
        this.#timer = this.#outside.after(waits[Math.min(this.#tries++, waits.length - 1)]!, () => void this.flush());
        return;
      }
      this.#tries = 0;
      this.needsSignIn = false;
      if (outcome === 'done') {
        await store.remove(order.n).catch(() => {}); // sent again it does no harm
        this.#kept = this.#kept.filter((one) => one.n !== order.n);
        for (const tell of this.#told) tell(order);
      } else {
        const refused = { ...order, refused: outcome };
        await store.put(refused).catch(() => {});
        this.#kept = this.#kept.map((one) => (one.n === order.n ? refused : one));
      }
    }
  }
}
