import { untrack } from 'svelte';
import { sentence } from '$lib/api';

/**
 * Kept is something of the server that a page keeps up to date: it is read when
 * somebody begins to look and again on every nudge. While it is read anew the old
 * value stays, so that a table does not flicker.
 */
export class Kept<T> {
  value = $state.raw<T>();
  /** Why the last reading failed. */
  said = $state<string>();
  #lookers = 0;
  #reading = false;
  #again = false;

  constructor(readonly read: () => Promise<T>) {}

  /** follow reads it, and keeps it up to date until the function it returns is called: give it to $effect. */
  follow = (): (() => void) => {
    this.#lookers++;
    untrack(() => void this.refresh());
    return () => void this.#lookers--;
  };

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
      try {
        this.value = await this.read();
        this.said = undefined;
      } catch (thrown) {
        this.said = sentence(thrown);
      }
    } while (this.#again);
    this.#reading = false;
  }
}
