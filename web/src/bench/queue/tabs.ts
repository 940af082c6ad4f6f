import { ours } from '$lib/ahead/root';
import { openDB, type DBSchema } from 'idb';
import { uuidv7 } from '$lib/api';
import type { Kept } from './order';
import { within } from './within';

/** Tabs are the pages of one phone that share its queue: one of them sends, the others hear of it. */
export interface Tabs {
  /** take asks for the turn to send, or keeps it, for so many ms; false while another page has it. */
  take(ms: number): Promise<boolean>;
  /** give lets another page have the turn. */
  give(): Promise<void>;
  /** tell says to the other pages that the queue has changed, and which order was carried out. */
  tell(done?: Kept): void;
  /** hear has a function called when another page tells. */
  hear(then: (done?: Kept) => void): void;
}

interface Schema extends DBSchema {
  turn: { key: string; value: { page: string; until: number } };
}

const turnWithinMs = 2_000;

/**
 * openTabs agrees with the other pages by a record in a database and a
 * BroadcastChannel: on plain http there are no navigator.locks. A page that dies
 * with the turn loses it when its time is over. Where the database fails, every
 * page sends; the keys of the orders keep that from doing harm.
 */
export function openTabs(name = ours('benchmeet-bench'), now: () => number = Date.now): Tabs {
  const page = uuidv7();
  // A database of its own: the one with the orders keeps its version, so that old pages do not block it.
  const opened = openDB<Schema>(`${name}-turn`, 1, { upgrade: (made) => void made.createObjectStore('turn') });
  opened.catch(() => {});
  const channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel(name) : undefined;
  const change = (
    to: (held: { page: string; until: number } | undefined) => { page: string; until: number } | undefined,
  ) =>
    within(
      turnWithinMs,
      opened.then(async (db) => {
        const turn = db.transaction('turn', 'readwrite');
        const wanted = to(await turn.store.get('turn'));
        if (wanted) await turn.store.put(wanted, 'turn');
        await turn.done;
        return wanted !== undefined;
      }),
    );
  return {
    take: (ms) =>
      change((held) =>
        held && held.page !== page && held.until > now() && held.until < now() + 10 * ms
          ? undefined
          : { page, until: now() + ms },
      ).catch(() => true),
    give: async () => {
      await change((held) => (held?.page === page ? { page, until: 0 } : undefined)).catch(() => false);
    },
    tell: (done) => channel?.postMessage(done ?? null),
    hear: (then) => channel?.addEventListener('message', (message) => then((message.data as Kept | null) ?? undefined)),
  };
}

/** alone is for a page without others. */
export const alone: Tabs = { take: async () => true, give: async () => {}, tell: () => {}, hear: () => {} };
