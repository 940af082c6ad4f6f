import { backoff } from '$lib/again';
import { uuidv7 } from '$lib/api';
import { aged, begun, carriedOut, doneAlready, takenBack, turnedDown, type Step } from './life';
import type { Draft, Kept, Refused } from './order';
import { send, type Outcome } from './send';
import { memoryStore, openStore, storeWithinMs, type Store } from './store';
import { alone, openTabs, type Tabs } from './tabs';
import { within } from './within';

/** Outside is what the queue needs from the browser; tests give their own. */
export interface Outside {
  open(): Promise<Store>;
  send(order: Kept, signal: AbortSignal): Promise<Outcome>;
  now(): number;
  after(ms: number, then: () => void): unknown;
  cancel(timer: unknown): void;
  /** The other pages of this phone; none where it is left out. */
  tabs?(): Tabs;
}

const browser: Outside = {
  open: openStore,
  send: (order, signal) => send(order, undefined, signal),
  now: () => Date.now(),
  after: (ms, then) => setTimeout(then, ms),
  cancel: (timer) => clearTimeout(timer as ReturnType<typeof setTimeout>),
  tabs: openTabs,
};

/** The longest wait between two rounds, in ms: somebody stands at the bench. */
const longestWaitMs = 8_000;
/** How often an order may fail before those behind it go ahead. */
const patience = 3;
/** How many orders in a row may get no answer before the network counts as away. */
const deaf = 3;
/** A try that takes longer than this may well take for ever, in ms. */
const hangsMs = 2_000;
/** How long a page that died keeps the turn to send, in ms; a living one keeps asking for it. */
const turnMs = 4_000;
/** Numbers of orders that the phone's store did not take. */
const unstored = 2 ** 52;

/**
 * OrderQueue sends what the volunteer ordered: each order is kept on the phone
 * first, with its key, and goes only when the server has answered. They are sent
 * one after the other, in the order in which they were given, whatever bench or
 * meet they are about; after a reload it goes on with what is there. An order that
 * the server answers to but does not take, time and again, lets those behind it go
 * ahead (`stuck`). One that is too old to be right is taken back, and so is one that the
 * volunteer wants back: the server then says whether it had carried it out. A
 * refused order does not hold up those behind it and stays until it is dismissed.
 */
export class OrderQueue {
  #kept = $state.raw<Kept[]>([]);
  /** How often each order failed, and how last. */
  #failed = $state.raw<ReadonlyMap<number, { times: number; how: Outcome }>>(new Map());
  #stuck = $state.raw<ReadonlySet<number>>(new Set());
  /** False where the phone cannot keep orders beyond this page. */
  lasting = $state(true);
  /** The server does not know this phone any more; orders wait for a new sign-in. */
  needsSignIn = $state(false);
  /** What answered last was not the server: a log-in page of the Wi-Fi, say. */
  strange = $state(false);
  readonly #outside: Outside;
  readonly #tabs: Tabs;
  #ready: Promise<Store>;
  #told: ((order: Kept) => void)[] = [];
  #gone: ((order: Kept) => void)[] = [];
  #sending: Promise<void> | undefined;
  #flight: { n: number; cut: AbortController; since: number } | undefined;
  #once = false;
  #timer: unknown;
  #tries = 0;

  constructor(outside: Outside = browser) {
    this.#outside = outside;
    this.#tabs = outside.tabs?.() ?? alone;
    this.#ready = this.#open();
    this.#tabs.hear((done) => void this.#heard(done));
    globalThis.addEventListener?.('online', this.hurry);
    globalThis.addEventListener?.('pagehide', () => void this.#tabs.give());
  }

  /** unsent are the orders without an answer, oldest first. */
  get unsent(): Kept[] {
    return this.#kept.filter((order) => !order.refused);
  }

  /** refused are the orders whose end has to be read, until they are dismissed. */
  get refused(): Kept[] {
    return this.#kept.filter((order) => order.refused);
  }

  /** stuck says whether the server answers to others, but does not take this one. */
  stuck(order: Kept): boolean {
    return this.#stuck.has(order.n);
  }

  /** put keeps an order and sends it as soon as it is its turn. It resolves once the order is kept. */
  async put(draft: Draft): Promise<void> {
    const store = await this.#ready;
    await this.#keep(store, { ...draft, key: uuidv7(), given: this.#outside.now() });
    void this.flush();
  }

  /** takeBack takes an unsent order back. One that the server may have is asked about, and its end is shown. */
  async takeBack(n: number): Promise<void> {
    const store = await this.#ready;
    const order = this.unsent.find((one) => one.n === n);
    if (!order) return;
    if (await this.#change(store, order, takenBack)) {
      if (this.#flight?.n === n) this.#flight.cut.abort();
      this.hurry();
    } else this.#leave(order);
  }

  /** dismiss takes a refused order away: off the phone first, so that it does not come back with a reload. */
  async dismiss(n: number): Promise<void> {
    const order = this.refused.find((one) => one.n === n);
    if (!order) return;
    await this.#change(await this.#ready, order, () => undefined);
    if (order.refused?.kind === undefined || order.refused.kind === 'too-old') this.#leave(order);
  }

  /** onDone has a function called with every order that was carried out. */
  onDone(then: (order: Kept) => void): () => void {
    this.#told.push(then);
    return () => (this.#told = this.#told.filter((one) => one !== then));
  }

  /**
   * onGone has a function called with every order that went without having been carried out: taken back, or read and
   * dismissed.
   */
  onGone(then: (order: Kept) => void): () => void {
    this.#gone.push(then);
    return () => (this.#gone = this.#gone.filter((one) => one !== then));
  }

  /**
   * hurry tries now rather than at the next turn: the network or the sign-in is back. A try that hangs is given up
   * for it.
   */
  hurry = (): void => {
    this.#tries = 0;
    if (this.#sending) this.#once = true;
    if (this.#flight && this.#outside.now() - this.#flight.since > hangsMs) this.#flight.cut.abort();
    void this.flush();
  };

  /** flush sends what is unsent until it is through or no answer comes. */
  flush(): Promise<void> {
    this.#sending ??= this.#sendAll();
    return this.#sending;
  }

  async #open(): Promise<Store> {
    const opening = this.#outside.open();
    let store: Store;
    try {
      store = await within(storeWithinMs, opening);
      this.#kept = await within(storeWithinMs, store.all());
    } catch {
      store = memoryStore();
      opening.then((late) => this.#adopt(late)).catch(() => {});
    }
    this.lasting = store.lasting;
    if (this.unsent.length > 0) this.#outside.after(0, () => void this.flush());
    return store;
  }

  /** adopt goes on with a store that opened late: what was kept in memory moves over. */
  async #adopt(late: Store): Promise<void> {
    if (!late.lasting) return;
    await this.#sending;
    const moved: Kept[] = [];
    for (const { n: _, ...order } of this.#kept) moved.push(await within(storeWithinMs, late.add(order)));
    this.#ready = Promise.resolve(late);
    this.#kept = await within(storeWithinMs, late.all());
    this.lasting = true;
    void this.flush();
  }

  async #heard(done: Kept | undefined): Promise<void> {
    const mine = done && this.#kept.find((one) => one.key === done.key);
    const store = await this.#ready;
    await this.#sync(store);
    // The other page had the answer before it knew that the order was taken back on this one.
    if (mine?.ends?.why === 'taken-back' && !this.#kept.some((one) => one.key === mine.key))
      await this.#keep(store, { ...mine, refused: doneAlready });
    if (done) for (const tell of this.#told) tell(done);
    // The other page may be one that is left alone in a pocket.
    if (this.unsent.length > 0 && !this.#sending) this.#again(backoff(1));
  }

  /** sync takes up what other pages of this phone did with the queue. */
  async #sync(store: Store): Promise<void> {
    if (!store.lasting) return;
    const stored = await within(storeWithinMs, store.all()).catch(() => undefined);
    if (stored) this.#kept = [...stored, ...this.#kept.filter((one) => one.n >= unstored)];
  }

  async #sendAll(): Promise<void> {
    const store = await this.#ready;
    this.#outside.cancel(this.#timer);
    const keeping = setInterval(() => void (this.#flight && this.#tabs.take(turnMs)), turnMs / 4);
    try {
      do {
        this.#once = false;
        await this.#sync(store);
        if (this.unsent.length === 0) break;
        if (!(await this.#tabs.take(turnMs))) {
          this.#again(backoff(1));
          break;
        }
        await this.#round(store);
      } while (this.#once);
    } finally {
      this.#sending = undefined; // in the same turn, so that no order falls between two flushes
      clearInterval(keeping);
      void this.#tabs.give();
    }
  }

  /** round tries every unsent order once, until it is clear that no answers come. */
  async #round(store: Store): Promise<void> {
    const tried = new Set<number>();
    let [reached, unanswered] = [false, 0];
    for (;;) {
      const order = this.unsent.find((one) => !tried.has(one.n));
      if (!order) break;
      const outcome = await this.#try(store, order);
      if (outcome === 'sign-in') {
        this.needsSignIn = true;
        return this.#again(this.#wait());
      }
      if (outcome === 'ended') continue;
      if (outcome !== undefined) {
        tried.add(order.n);
        if (outcome === 'failed') reached = true;
        else unanswered++;
        if (!this.#fail(order, outcome) || (unanswered >= deaf && !reached)) break;
      } else {
        // It is through, or goes on as one that is taken back.
        reached = true;
        this.needsSignIn = false;
        this.strange = false;
      }
      if (!(await this.#tabs.take(turnMs))) break;
    }
    if (reached) {
      this.#tries = 0;
      const stuck = this.unsent.filter((one) => (this.#failed.get(one.n)?.times ?? 0) >= patience);
      this.#stuck = new Set(stuck.map((one) => one.n));
    }
    if (this.unsent.length > 0) this.#again(this.#wait());
  }

  /**
   * try tries one order: undefined says that the server's own answer came and was taken up, "ended" that none was
   * needed.
   */
  async #try(store: Store, order: Kept): Promise<Exclude<Outcome, Refused | 'done'> | 'ended' | undefined> {
    const before = await this.#change(store, order, aged(this.#outside.now()));
    if (!before || before.refused) return 'ended';
    const sent = await this.#change(store, before, begun);
    if (!sent || sent.refused) return 'ended';
    const flight = (this.#flight = { n: order.n, cut: new AbortController(), since: this.#outside.now() });
    const outcome = await this.#outside.send(sent, flight.cut.signal);
    if (this.#flight === flight) this.#flight = undefined;
    if (outcome === 'done') {
      // Before it leaves the unsent ones: in neither place for a moment, what hangs on it would be drawn anew.
      for (const tell of this.#told) tell(order);
      await this.#change(store, sent, carriedOut);
      this.#tabs.tell(order);
    } else if (typeof outcome === 'object') {
      const end = await this.#change(store, sent, turnedDown(outcome, sent.ends !== undefined));
      if (!end) this.#leave(sent);
    } else return outcome;
    return undefined;
  }

  /** fail notes that an order did not get through, and says whether those behind it may go ahead. */
  #fail(order: Kept, how: Outcome): boolean {
    const times = (this.#failed.get(order.n)?.times ?? 0) + 1;
    this.#failed = new Map(this.#failed).set(order.n, { times, how });
    this.strange = how === 'strange';
    return times >= patience;
  }

  async #keep(store: Store, order: Omit<Kept, 'n'>): Promise<void> {
    let kept: Kept;
    const { n: _, ...fresh } = order as Kept;
    try {
      kept = await within(storeWithinMs, store.add(fresh));
    } catch {
      // The phone's storage is full or was taken away: better sent from memory than lost.
      this.lasting = false;
      kept = { ...fresh, n: this.#nextUnstored() };
    }
    this.#kept = [...this.#kept.filter((one) => one.n !== kept.n), kept].sort(inOrder);
    this.#tabs.tell();
  }

  /** change does a step with an order, as all pages of the phone know it now, and shows what came of it. */
  async #change(store: Store, order: Kept, step: Step): Promise<Kept | undefined> {
    const here = () => step(this.#kept.find((one) => one.n === order.n) ?? order);
    // Where the phone's store fails, it only changes on the page; sent again it does no harm.
    const next = order.n >= unstored ? here() : await within(storeWithinMs, store.change(order.n, step)).catch(here);
    if (next) this.#kept = this.#kept.map((one) => (one.n === order.n ? next : one));
    else this.#kept = this.#kept.filter((one) => one.n !== order.n);
    this.#tabs.tell();
    return next;
  }

  /** leave tells that an order went that was not carried out. */
  #leave(order: Kept): void {
    for (const tell of this.#gone) tell(order);
  }

  #wait(): number {
    const waiting = this.unsent.some((one) => !this.#stuck.has(one.n));
    return waiting ? backoff(++this.#tries, Math.random(), longestWaitMs) : longestWaitMs;
  }

  #again(ms: number): void {
    this.#outside.cancel(this.#timer);
    this.#timer = this.#outside.after(ms, () => void this.flush());
  }

  #nextUnstored(): number {
    return Math.max(unstored, ...this.#kept.map((one) => one.n + 1));
  }
}

const inOrder = (a: Kept, b: Kept): number => a.n - b.n;
