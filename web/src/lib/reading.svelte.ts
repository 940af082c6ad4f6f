import { untrack } from 'svelte';
import { insist } from './again';
import { sentence } from './api';

/**
 * Reading is something of the server that a page keeps up to date: it is read when
 * somebody begins to look and again on every nudge. While it is read anew the old
 * value stays, so that a table does not flicker; it stays beside `said` where that failed.
 *
 *     const runs = new Reading(async () => (await ask(api.GET('/api/v1/meets/{meet}/runs', { params }))).runs);
 *     $effect(runs.follow);
 *     {#if runs.value} … {:else if runs.said} …
 */
export class Reading<T> {
  value = $state.raw<T>();
  /** Why the last reading failed. */
  said = $state<string>();
  #lookers = 0;
  #reading = false;
  #again = false;
  /** Counts what it is about; an answer about something else is dropped. */
  #about = 0;

  constructor(readonly read: () => Promise<T>) {}

  /** follow reads it, and keeps it up to date until the function it returns is called: give it to $effect. */
  follow = (): (() => void) => {
    this.#lookers++;
    untrack(() => void this.refresh());
    return () => void this.#lookers--;
  };

  /** anew is follow for something else: what was read before is forgotten at once. */
  anew = (): (() => void) => {
    this.#about++;
    this.value = undefined;
    this.said = undefined;
    return this.follow();
  };

  /** insist is follow where nothing else would have a failed reading done again. */
  insist = (): (() => void) =>
    untrack(() =>
      insist(async () => {
        await this.refresh();
        return this.said === undefined;
      }),
    );

  /** nudge reads again if somebody looks. */
  nudge(): void {
    if (this.#lookers > 0) void this.refresh();
  }

  /** refresh reads again; asked for while it reads, it reads once more after. */
  async refresh(): Promise<void> {
    if (this.#reading) {
      this.#again = true;
      return;
    }
    this.#reading = true;
    do {
      this.#again = false;
      const about = this.#about;
      try {
        const value = await this.read();
        if (about !== this.#about) continue;
        this.value = value;
        this.said = undefined;
      } catch (thrown) {
        if (about === this.#about) this.said = sentence(thrown);
      }
    } while (this.#again);
    this.#reading = false;
  }
}
