import { ours } from '$lib/ahead/root';
import { uuidv7 } from './ids';

/** Unsettled is an order that was sent and of which nobody knows yet what became. */
interface Unsettled {
  key: string;
  /** When it was first sent, in ms. */
  since: number;
  /** Whether a try of it ended without an answer. */
  tried: boolean;
}

/** Where it outlives a reload of the page, for this tab alone. */
const place = ours('benchmeet-unsettled');

/**
 * The orders of this page without a known outcome, by their content: sent again,
 * from whatever button and after whatever came in between, an order carries the
 * key that it had, so that it is done once. What an order says is kept as a
 * fingerprint only, for it may hold names.
 */
class UnsettledOrders {
  #orders: Map<string, Unsettled> | undefined;

  /** open gives the order of this content: the unsettled one, or a new one under `key`. */
  open(content: string, key: string = uuidv7(), now = Date.now()): Unsettled {
    const print = fingerprint(content);
    const known = this.#all.get(print);
    if (known) return known;
    const order = { key, since: now, tried: false };
    this.#all.set(print, order);
    this.#write();
    return order;
  }

  /**
   * noteTry remembers that a try of the order with this key ended without an answer: it may be on its way for a while
   * yet.
   */
  noteTry(key: string | null): void {
    for (const order of this.#all.values()) {
      if (order.key !== key || order.tried) continue;
      order.tried = true;
      this.#write();
    }
  }

  /** settle forgets an order whose outcome is known. */
  settle(content: string): void {
    if (this.#all.delete(fingerprint(content))) this.#write();
  }

  /** reload reads what the tab kept; for a page that was loaded anew. */
  reload(): void {
    this.#orders = undefined;
  }

  get #all(): Map<string, Unsettled> {
    return (this.#orders ??= read());
  }

  #write(): void {
    try {
      sessionStorage.setItem(place, JSON.stringify([...this.#all]));
    } catch {
      // A browser that keeps nothing: it is remembered until the page goes.
    }
  }
}

export const unsettled = new UnsettledOrders();

function read(): Map<string, Unsettled> {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(place) ?? '[]');
    // A page that was left while it sent got no answer.
    return new Map((kept as [string, Unsettled][]).map(([print, order]) => [print, { ...order, tried: true }]));
  } catch {
    return new Map();
  }
}

/**
 * fingerprint is 128 bits of a text (FNV-1a, four times from different starts). A page
 * on plain http has no crypto.subtle; against chance, which is all that two orders
 * of one tab need, this is plenty.
 */
export function fingerprint(text: string): string {
  const bytes = new TextEncoder().encode(text);
  return [0x811c9dc5, 0x01000193, 0x9e3779b9, 0x7f4a7c15]
    .map((start) => {
      let hash = start;
      for (const byte of bytes) hash = Math.imul(hash ^ byte, 0x01000193) ^ (hash >>> 15);
      return (hash >>> 0).toString(16).padStart(8, '0');
    })
    .join('');
}
