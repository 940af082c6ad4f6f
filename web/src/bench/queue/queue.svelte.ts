import { uuidv7 } from '$lib/api';
import { tooOld, type Draft, type Kept, type Refused } from './order';
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

/** Waits between rounds, in ms; the last one stays. */
const waits = [1_000, 2_000, 4_000, 8_000];
/** How often an order may fail before those behind it go ahead. */
const patience = 3;
/** How many orders in a row may get no answer before the network counts as away. */
const deaf = 3;
/** A try that takes longer than this may well take for ever, in ms. */
const hangsMs = 2_000;
/** The turn to send is longer than a try may take, in ms. */
const turnMs = 15_000;
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
    const order = { ...draft, key: uuidv7(), given: this.#outside.now() };
    let kept: Kept;
    try {
      kept = await within(storeWithinMs, store.add(order));
    } catch {
      // The phone's storage is full or was taken away: better sent from memory than lost.
      this.lasting = false;
      kept = { ...order, n: this.#nextUnstored() };
    }
    this.#kept = [...this.#kept.filter((one) => one.n !== kept.n), kept].sort(inOrder);
    this.#tabs.tell();
    void this.flush();
  }

  /** takeBack takes an unsent order back. One that the server may have is asked about, and its end is shown. */
  async takeBack(n: number): Promise<void> {
    const store = await this.#ready;
    await this.#sync(store);
    const order = this.unsent.find((one) => one.n === n);
    if (!order) return;
    if (this.#flight?.n === n) this.#flight.cut.abort();
    if (!order.tried) return this.#let(store, order);
    await this.#change(store, { ...order, ends: { why: 'taken-back' } });
    this.hurry();
  }

  /** dismiss takes a refused order away: off the phone first, so that it does not come back with a reload. */
  async dismiss(n: number): Promise<void> {
    const order = this.refused.find((one) => one.n === n);
    if (order) await this.#let(await this.#ready, order);
  }

  /** onDone has a function called with every order that was carried out. */
  onDone(then: (order: Kept) => void): () => void {
    this.#told.push(then);
    return () => (this.#told = this.#told.filter((one) => one !== then));
  }

  /** onGone has a function called with every order that went without having been carried out: taken back, or read and dismissed. */
  onGone(then: (order: Kept) => void): () => void {
    this.#gone.push(then);
    return () => (this.#gone = this.#gone.filter((one) => one !== then));
  }

  /** hurry tries now rather than at the next turn: the network or the sign-in is back. A try that hangs is given up for it. */
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
    await this.#sync(await this.#ready);
    if (mine?.ends?.why === 'taken-back' && !this.#kept.some((one) => one.key === mine.key)) {
      this.#kept = [...this.#kept, { ...mine, n: this.#nextUnstored(), refused: doneAlready }];
    }
    if (done) for (const tell of this.#told) tell(done);
    // The other page may be one that is left alone in a pocket.
    if (this.unsent.length > 0 && !this.#sending) this.#again(waits[0]!);
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
    try {
      do {
        this.#once = false;
        await this.#sync(store);
        if (this.unsent.length === 0) break;
        if (!(await this.#tabs.take(turnMs))) {
          this.#again(waits[0]!);
          break;
        }
        await this.#round(store);
      } while (this.#once);
    } finally {
      this.#sending = undefined; // in the same turn, so that no order falls between two flushes
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
      const before = order.ends;
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
        if (before) tried.add(order.n);
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

  /** try tries one order: undefined says that the server's own answer came and was taken up, "ended" that none was needed. */
  async #try(store: Store, order: Kept): Promise<Exclude<Outcome, Refused | 'done'> | 'ended' | undefined> {
    if (!order.ends && tooOld(order, this.#outside.now())) {
      const end = order.tried ? { ...order, ends: { why: 'too-old' as const } } : { ...order, refused: tooLate };
      await this.#change(store, end);
      return 'ended';
    }
    const sent = order.tried ? order : { ...order, tried: true };
    if (!order.tried) await this.#change(store, sent);
    const flight = (this.#flight = { n: order.n, cut: new AbortController(), since: this.#outside.now() });
    const outcome = await this.#outside.send(sent, flight.cut.signal);
    if (this.#flight === flight) this.#flight = undefined;
    // It may have been taken back while it was on its way.
    const now = this.unsent.find((one) => one.n === order.n);
    if (!now) return undefined;
    if (outcome === 'done') await this.#carriedOut(store, now);
    else if (typeof outcome === 'object') await this.#turnedDown(store, order, now, outcome);
    else return outcome;
    return undefined;
  }

  async #carriedOut(store: Store, order: Kept): Promise<void> {
    if (order.ends?.why === 'taken-back') await this.#change(store, { ...order, refused: doneAlready });
    else await this.#drop(store, order);
    this.#tabs.tell(order);
    for (const tell of this.#told) tell(order);
  }

  async #turnedDown(store: Store, before: Kept, now: Kept, no: Refused): Promise<void> {
    if (now.ends && !before.ends) return; // that no is about the try; what it ends in is asked next
    if (!now.ends) {
      // A try before this one may still be on its way: the no is true once that is taken back.
      if (before.tried) return this.#change(store, { ...now, ends: { why: 'refused', no } });
      return this.#change(store, { ...now, refused: no });
    }
    const withdrawn = no.code === 'order-withdrawn';
    if (now.ends.why === 'refused') return this.#change(store, { ...now, refused: now.ends.no });
    if (!withdrawn) return this.#change(store, { ...now, refused: { ...no, kind: 'unknown' } });
    if (now.ends.why === 'too-old') return this.#change(store, { ...now, refused: tooLate });
    return this.#let(store, now);
  }

  /** fail notes that an order did not get through, and says whether those behind it may go ahead. */
  #fail(order: Kept, how: Outcome): boolean {
    const times = (this.#failed.get(order.n)?.times ?? 0) + 1;
    this.#failed = new Map(this.#failed).set(order.n, { times, how });
    this.strange = how === 'strange';
    return times >= patience;
  }

  async #change(store: Store, order: Kept): Promise<void> {
    this.#kept = this.#kept.map((one) => (one.n === order.n ? order : one));
    await within(storeWithinMs, store.put(order)).catch(() => {}); // then it only changes on the page
    this.#tabs.tell();
  }

  async #drop(store: Store, order: Kept): Promise<void> {
    await within(storeWithinMs, store.remove(order.n)).catch(() => {}); // sent again it does no harm
    this.#kept = this.#kept.filter((one) => one.n !== order.n);
    this.#tabs.tell();
  }

  /** let has an order go that was not carried out. */
  async #let(store: Store, order: Kept): Promise<void> {
    await this.#drop(store, order);
    if (!order.refused || order.refused.kind === undefined || order.refused.kind === 'too-old') for (const tell of this.#gone) tell(order);
  }

  #wait(): number {
    const waiting = this.unsent.some((one) => !this.#stuck.has(one.n));
    return waits[waiting ? Math.min(this.#tries++, waits.length - 1) : waits.length - 1]!;
  }

  #again(ms: number): void {
    this.#outside.cancel(this.#timer);
    this.#timer = this.#outside.after(ms, () => void this.flush());
  }

  #nextUnstored(): number {
    return Math.max(unstored, ...this.#kept.map((one) => one.n + 1));
  }
}

const tooLate: Refused = { code: 'too-old', says: '', kind: 'too-old' };
const doneAlready: Refused = { code: 'done', says: '', kind: 'done' };
const inOrder = (a: Kept, b: Kept): number => a.n - b.n;
