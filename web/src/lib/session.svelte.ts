import { api, ask, sentence, type Schema } from './api';

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

  /** open signs in with the token of the address if there is one, and learns who we are. */
  async open(): Promise<void> {
    const token = new URLSearchParams(location.hash.slice(1)).get('token');
    if (token) history.replaceState(history.state, '', location.pathname + location.search);
    try {
      this.#take(await ask(token ? api.POST('/api/v1/session', { body: { token } }) : api.GET('/api/v1/session')));
    } catch (thrown) {
      this.said = sentence(thrown);
    }
  }

  /** signIn takes a token that was typed or pasted, or a whole link with one. */
  async signIn(text: string): Promise<void> {
    const token = text.includes('token=') ? text.slice(text.indexOf('token=') + 6) : text;
    this.said = undefined;
    try {
      this.#take(await ask(api.POST('/api/v1/session', { body: { token: token.trim() } })));
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
  }
}

export const session = new Session();
