import { ours } from '$lib/ahead/root';
import { veil } from './veil';

/** Where it is kept: for this tab, over reloads, until it is taken off. */
const place = ours('benchmeet-cover');

/** The key that puts the cover on and takes it off. No browser needs it, and no form: nobody types it by mistake. */
export const coverKey = 'F8';

/**
 * Cover hides names, birth dates and reasons while others look on. What is covered never reaches the pages: every
 * answer of the server, and every frame of the feed, goes through `veil` on its way in, so new content is covered too,
 * whichever page shows it. Putting it on draws the desk anew from such answers.
 */
class Cover {
  on = $state(kept());
  readonly #shown = new WeakMap<object, unknown>();
  readonly #turns: (() => void)[] = [];

  toggle = (): void => {
    this.on = !this.on;
    this.#turns.forEach((turn) => turn());
    try {
      sessionStorage.setItem(place, String(this.on));
    } catch {
      // A browser that keeps nothing: it is off again after a reload, and the bar that says so is gone.
    }
  };

  /** onTurn is for what outlives the pages and has to be read anew. */
  onTurn(turn: () => void): void {
    this.#turns.push(turn);
  }

  /** over is what may be shown of something that the feed said; of the same thing always the same. */
  over<T extends object | undefined>(value: T): T {
    if (!this.on || !value) return value;
    if (!this.#shown.has(value)) this.#shown.set(value, veil(value));
    return this.#shown.get(value) as T;
  }

  /** stand puts the cover between the network and all that asks over it, on the desk alone. */
  stand(): void {
    const open = globalThis.fetch;
    globalThis.fetch = async (asked, init) => {
      const answer = await open(asked, init);
      if (!answer.headers.get('Content-Type')?.startsWith('application/json')) return answer;
      const { status, statusText, headers } = answer;
      const said = await answer.text();
      // Looked at now: the cover may have come while the answer did.
      const kept = new Response(this.on ? veiled(said) : said, { status, statusText, headers });
      // A made answer has no address and never came by a detour; who asks looks at both.
      Object.defineProperties(kept, { url: { value: answer.url }, redirected: { value: answer.redirected } });
      return kept;
    };
  }
}

/** veiled is the text of an answer under the cover; half an answer stays half, and is asked for again. */
function veiled(said: string): string {
  try {
    return JSON.stringify(veil(JSON.parse(said)));
  } catch {
    return '';
  }
}

function kept(): boolean {
  try {
    return sessionStorage.getItem(place) === 'true';
  } catch {
    return false;
  }
}

export const cover = new Cover();
