import { ours } from '$lib/ahead/root';
import { fingerprint, outcomeKnown } from '$lib/api';
import { freeId, slug } from './names';

/** Where ids of what was sent without a known outcome outlive a reload, for this tab alone. */
const place = ours('benchmeet-drafts');

/**
 * DraftId is the id of a new thing while it is being written down. It follows the
 * name that is typed until it is sent; from then on it belongs to the draft,
 * whatever the live list says: where an answer was lost, the list may hold this
 * very thing already.
 */
export class DraftId {
  #sent = $state<string>();
  /** Whether it was sent and nobody knows what became of it: then the draft has to stay as it is. */
  unsettled = $state(false);

  /** The scope is what ids are unique in, such as "division spring". */
  constructor(readonly scope: string) {}

  /**
   * of is the id for a name: free in the list, or the one that was sent already. A `secret` one says nothing of the
   * name.
   */
  of(name: string, taken: readonly string[], otherwise: string, secret?: string): string {
    return this.#sent ?? kept().get(this.#place(name)) ?? secret ?? freeId(name, taken, otherwise);
  }

  /** renew is for a new draft. */
  renew(): void {
    this.#sent = undefined;
    this.unsettled = false;
  }

  /** send gives the order; a refusal frees the id again. */
  async send<T>(name: string, id: string, order: () => Promise<T>): Promise<T> {
    this.#sent = id;
    this.unsettled = true;
    keep(this.#place(name), id);
    try {
      const answer = await order();
      this.#settle(name);
      return answer;
    } catch (thrown) {
      if (outcomeKnown(thrown)) {
        this.#settle(name);
        this.#sent = undefined;
      }
      throw thrown;
    }
  }

  #settle(name: string): void {
    this.unsettled = false;
    keep(this.#place(name), undefined);
  }

  #place = (name: string): string => fingerprint(`${this.scope}\n${slug(name)}`);
}

function kept(): Map<string, string> {
  try {
    return new Map(JSON.parse(sessionStorage.getItem(place) ?? '[]') as [string, string][]);
  } catch {
    return new Map();
  }
}

function keep(where: string, id: string | undefined): void {
  const all = kept();
  if (id === undefined) all.delete(where);
  else all.set(where, id);
  try {
    sessionStorage.setItem(place, JSON.stringify([...all]));
  } catch {
    // A browser that keeps nothing: it is remembered until the page goes.
  }
}
