import { createContext } from 'svelte';
import { api, ask, type Schema } from '$lib/api';
import { meetFeed } from '$lib/live';
import { cover } from '../cover/cover.svelte';
import { may } from '../may';
import { Asking } from '../ruling/asking.svelte';
import { Reading } from '$lib/reading.svelte';

/**
 * How often the list of decisions is read without news: some come with the clock
 * alone, and the feed is silent about what changes neither the board nor the meet.
 */
const decisionsEveryMs = 2_000;

/**
 * How often everything that is looked at is read without news: who is erased, and a
 * text that is removed, leave nothing in the log of the meet.
 */
const namesEveryMs = 10_000;

/**
 * Day is the meet that the desk works on: what the live feed says of it, and lists
 * that are read again whenever the feed tells of a newer position of the log.
 */
export class Day {
  readonly path: { meet: string };
  readonly feed;
  readonly asking = new Asking();
  readonly whole;
  readonly heats;
  readonly entries;
  readonly runs;
  readonly decisions;
  readonly rulings;
  readonly protests;
  readonly table;
  readonly #kept: Reading<unknown>[];
  #seq = 0;

  constructor(readonly id: string) {
    const path = (this.path = { meet: id });
    const params = { path };
    this.feed = meetFeed(id, ['meet', 'board']);
    this.whole = new Reading(() => ask(api.GET('/api/v1/meets/{meet}', { params })));
    this.heats = new Reading(async () => (await ask(api.GET('/api/v1/meets/{meet}/heats', { params }))).heats);
    this.entries = new Reading(async () => (await ask(api.GET('/api/v1/meets/{meet}/entries', { params }))).entries);
    this.runs = new Reading(async () => (await ask(api.GET('/api/v1/meets/{meet}/runs', { params }))).runs);
    this.decisions = new Reading(async () => {
      if (!may.rule()) {
        // The inspector has nothing to decide, and follows the log by the meet.
        this.#reached((await ask(api.GET('/api/v1/meets/{meet}', { params }))).seq);
        return [];
      }
      const { seq, decisions } = await ask(api.GET('/api/v1/meets/{meet}/decisions', { params }));
      this.#reached(seq);
      return decisions;
    });
    this.rulings = new Reading(async () => (await ask(api.GET('/api/v1/meets/{meet}/rulings', { params }))).rulings);
    this.protests = new Reading(async () => (await ask(api.GET('/api/v1/meets/{meet}/protests', { params }))).protests);
    this.table = new Reading(() => ask(api.GET('/api/v1/meets/{meet}/inspection', { params })));
    this.#kept = [
      this.whole,
      this.heats,
      this.entries,
      this.runs,
      this.decisions,
      this.rulings,
      this.protests,
      this.table,
    ];
  }

  /** meet is the newest that is known of the meet as a whole. */
  get meet(): Schema['Meet'] | undefined {
    const [live, read] = [this.feed.latest('meet'), this.whole.value];
    return cover.over(live && (!read || live.seq >= read.seq) ? live : read);
  }

  get board(): Schema['Board'] | undefined {
    return cover.over(this.feed.latest('board'));
  }

  /** keep adds a list of a page to those that follow the meet. */
  keep<T>(kept: Reading<T>): () => void {
    this.#kept.push(kept);
    const stop = kept.follow();
    return () => {
      this.#kept.splice(this.#kept.indexOf(kept), 1);
      stop();
    };
  }

  /** nudge has everything that is looked at read again. */
  nudge(): void {
    for (const kept of this.#kept) kept.nudge();
  }

  /** reached has the lists read again if the log is further than they can know. */
  #reached(seq: number): void {
    const news = seq > this.#seq;
    this.#seq = Math.max(seq, this.#seq);
    if (news) for (const kept of this.#kept) if (kept !== this.decisions) kept.nudge();
  }

  /** watch keeps decisions, names and texts fresh until the function it returns is called. */
  watch = (): (() => void) => {
    const timers = [
      setInterval(() => this.decisions.nudge(), decisionsEveryMs),
      setInterval(() => this.nudge(), namesEveryMs),
    ];
    return () => timers.forEach(clearInterval);
  };

  close = (): void => this.feed.close();
}

/** The day of the page around a component. */
export const [getDay, setDay] = createContext<Day>();
