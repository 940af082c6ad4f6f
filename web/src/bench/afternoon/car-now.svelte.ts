import { api, ask, type Schema } from '$lib/api';
import { Reading } from '$lib/reading.svelte';
import type { OrderQueue } from '../queue';
import { setupOnceSent } from './setup';

type Life = Schema['CarLife'];

/** What was read of each car last, for when the network is away. */
const known = new Map<number, Life>();

async function read(number: number): Promise<Life> {
  const life = await ask(api.GET('/api/v1/practice/cars/{number}', { params: { path: { number } } }));
  known.set(number, life);
  return life;
}

/** learn reads a car that may be changed soon. That it cannot be read now is said once somebody asks for it. */
export const learn = (number: number): Promise<unknown> => read(number).catch(() => undefined);

/** CarNow is what a car has been, and what it will be once all that waits on this phone is sent. */
export class CarNow {
  readonly #life: Reading<Life>;
  readonly setup = $derived.by<Schema['CarSetup'] | undefined>(
    () => setupOnceSent(this.queue().unsent, this.number()) ?? this.#now?.setup ?? undefined,
  );

  constructor(
    private readonly queue: () => OrderQueue,
    private readonly number: () => number,
  ) {
    this.#life = new Reading(() => read(number()));
  }

  /** follow reads it while somebody looks: give it to $effect. */
  follow = (): (() => void) => this.#life.follow();

  get states(): Life['states'] {
    return this.#now?.states ?? [];
  }

  get #now(): Life | undefined {
    return this.#life.value ?? (this.#life.said === undefined ? undefined : known.get(this.number()));
  }
}
