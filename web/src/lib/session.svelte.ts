import { api, ask, sentence, Unreachable, type Schema } from './api';

/**
 * Session is who this browser is. A link or QR code carries its token in the
 * address's fragment (`/desk#token=…`), which never reaches a server's log; it is
 * exchanged for a cookie and taken out of the address at once.
 */
class Session {
  role = $state<Schema['Role']>('public');
  benches = $state.raw<string[]>([]);
  actor = $state<string>();
  /** Whether the server has said who we are. */
  known = $state(false);
  /** Why signing in failed. */
  said = $state<string>();
  /** Whether it failed because no answer came: `open` may be called again. */
  unreachable = $state(false);
  #token: string | undefined;

  /**
   * open signs in with the token of the address if there is one, and learns who we
   * are. Where the server cannot be reached the token is kept for the next call.
   */
  async open(): Promise<void> {
    const given = new URLSearchParams(location.hash.slice(1)).get('token');
    if (given) history.replaceState(history.state, '', location.pathname + location.search);
    const token = given ?? this.#token;
    this.#token = undefined;
    try {
      this.#take(await ask(token ? enter(token) : api.GET('/api/v1/session')));
    } catch (thrown) {
      this.unreachable = thrown instanceof Unreachable;
      if (this.unreachable) this.#token = token;
      this.said = sentence(thrown);
    }
  }

  /** signIn takes a token that was typed or pasted, or a whole link with one. */
  async signIn(text: string): Promise<void> {
    const token = text.includes('token=') ? text.slice(text.indexOf('token=') + 6) : text;
    this.said = undefined;
    try {
      this.#take(await ask(enter(token.trim())));
    } catch (thrown) {
      this.said = sentence(thrown);
    }
  }

  async signOut(): Promise<void> {
    await ask(api.DELETE('/api/v1/session'));
    this.#take({ role: 'public', benches: [] });
  }

  #take(session: Schema['Session']): void {
    this.role = session.role;
    this.benches = session.benches;
    this.actor = session.actor;
    this.known = true;
    this.unreachable = false;
    this.said = undefined;
  }
}

/** enter exchanges a token for the cookie. The token speaks for itself, because an old cookie would be refused. */
const enter = (token: string) =>
  api.POST('/api/v1/session', { body: { token }, headers: { Authorization: `Bearer ${token}` } });

export const session = new Session();
