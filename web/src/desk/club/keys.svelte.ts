import { api, ask, type Schema } from '$lib/api';
import { session } from '$lib/session.svelte';
import { Reading } from '$lib/reading.svelte';

/**
 * Keys are the tokens that are out. Only organisers may list them; for officials the
 * list stays empty and rulings show the short name of who made them.
 */
export class Keys {
  readonly list = new Reading<Schema['Token'][]>(async () =>
    session.role === 'organiser' ? (await ask(api.GET('/api/v1/tokens'))).tokens : [],
  );
  follow = () => this.list.follow();

  /** nameOf is what the key of an actor is for, or the actor's short name. */
  nameOf(actor: string): string {
    return this.list.value?.find((token) => token.actor === actor)?.label ?? actor;
  }
}
