import { api, ask, type Schema } from '$lib/api';
import { Reading } from '$lib/reading.svelte';
import type { OrderQueue } from '../queue';
import { setupOnceSent } from './setup';

/** CarNow is what a car has been, and what it will be once all that waits on this phone is sent. */
export class CarNow {
  readonly #life: Reading<Schema['CarLife']>;
  readonly setup = $derived.by<Schema['CarSetup'] | undefined>(
    () => setupOnceSent(this.queue().unsent, this.number()) ?? this.#life.value?.setup ?? undefined,
  );

  constructor(
    private readonly queue: () => OrderQueue,
    private readonly number: () => number,
  ) {
    this.#life = new Reading(() =>
      ask(api.GET('/api/v1/practice/cars/{number}', { params: { path: { number: number() } } })),
    );
  }

  /** follow reads it while somebody looks: give it to $effect. */
  follow = (): (() => void) => this.#life.follow();

  get states(): Schema['CarLife']['states'] {
    return this.#life.value?.states ?? [];
  }
}
