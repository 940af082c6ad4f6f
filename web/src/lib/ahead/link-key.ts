import { ours } from './root';

/** Where a key is kept until the server has answered to it, for this tab alone. */
const place = ours('benchmeet-link-key');

/**
 * The key of a link (`/desk#token=…`) from when the page was opened until the server
 * has answered to it. It is taken out of the address at once. Whoever opens a link and
 * goes on before the answer came is signed in by the next page of the tab; a tab that
 * is closed, and an answer, leave nothing behind.
 */
class LinkKey {
  /** For a browser that keeps nothing. */
  #held: string | undefined;

  /** read gives the key that has to be exchanged; the newest link's, if several were opened. */
  read(): string | undefined {
    const given = new URLSearchParams(location.hash.slice(1)).get('token');
    if (given) {
      history.replaceState(history.state, '', location.pathname + location.search);
      this.#held = given;
      try {
        sessionStorage.setItem(place, given);
      } catch {
        // It is remembered until the page goes.
      }
    }
    return this.#kept;
  }

  /** forget lets go of a key that was answered; a newer one stays. */
  forget(key: string): void {
    if (this.#kept !== key) return;
    this.#held = undefined;
    try {
      sessionStorage.removeItem(place);
    } catch {
      // It was never kept.
    }
  }

  get #kept(): string | undefined {
    try {
      return sessionStorage.getItem(place) ?? this.#held;
    } catch {
      return this.#held;
    }
  }
}

export const linkKey = new LinkKey();
