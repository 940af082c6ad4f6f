import { linkKey } from './ahead/link-key';
import { api, ask, onSignedOut, Problem, sentence, settles, Unreachable, type Schema } from './api';

/** Offer is a sign-in as somebody else that a link brought, until somebody says yes or no. */
export interface Offer {
  token: string;
  session: Schema['Session'];
}

/**
 * Session is who this browser is. A link or QR code carries its token in the
 * address's fragment (`/desk#token=…`), which never reaches a server's log; it is
 * exchanged for a cookie before the page is drawn, see link-key.ts. A link for
 * somebody else does not replace a sign-in: it is offered.
 */
class Session {
  role = $state<Schema['Role']>('public');
  benches = $state.raw<string[]>([]);
  actor = $state<string>();
  /** Whether the server has said who we are. */
  known = $state(false);
  /** Why signing in failed; with a sign-in, why a link that was opened since is good for nothing. */
  said = $state<string>();
  /** Whether it failed because no answer came: `open` may be called again. */
  unreachable = $state(false);
  /** The server no longer knows us, though it did: a key was revoked or ran out. */
  lost = $state(false);
  offer = $state.raw<Offer>();
  /** What is being asked, and with which key: asked for again meanwhile, it is asked once. */
  #opening: { key: string | undefined; done: Promise<void> } | undefined;

  constructor() {
    onSignedOut(() => {
      if (this.role !== 'public') this.lost = true;
    });
  }

  /** runs says whether a bench may be run from this browser: who calls and rules may stand at any. */
  runs(bench: string): boolean {
    return ['organiser', 'official', 'referee'].includes(this.role) || this.benches.includes(bench);
  }

  /**
   * open signs in with the key of a link if there is one, and learns who we are. A
   * key to which the server has not answered is kept for the next call, on the next
   * page of the tab too.
   */
  async open(): Promise<void> {
    const key = linkKey.read();
    if (this.#opening && this.#opening.key === key) return this.#opening.done;
    const opening = { key, done: this.#open(key) };
    this.#opening = opening;
    await opening.done;
    if (this.#opening === opening) this.#opening = undefined;
  }

  async #open(token: string | undefined): Promise<void> {
    try {
      const now = await ask(api.GET('/api/v1/session'));
      if (!token) this.take(now);
      else if (now.role === 'public') this.take(await ask(enter(token)));
      else await this.#consider(token, now);
      if (token) linkKey.forget(token);
    } catch (thrown) {
      this.unreachable = thrown instanceof Unreachable;
      // A no to a key is an answer.
      if (token && thrown instanceof Problem && (thrown.status === 401 || settles(thrown.status)))
        linkKey.forget(token);
      this.said = sentence(thrown);
    }
  }

  /** signIn takes a token that was typed or pasted, or a whole link with one. */
  async signIn(text: string): Promise<void> {
    const token = /token=([^&#\s]+)/.exec(text)?.[1] ?? text.trim();
    this.said = undefined;
    try {
      this.take(await ask(enter(token)));
    } catch (thrown) {
      this.said = sentence(thrown);
    }
  }

  /** accept signs in as the one whom a link offered. */
  async accept(): Promise<void> {
    if (this.offer) await this.signIn(this.offer.token);
  }

  /** decline stays who we are. */
  decline(): void {
    this.offer = undefined;
    this.said = undefined;
  }

  async signOut(): Promise<void> {
    await ask(api.DELETE('/api/v1/session'));
    this.take({ role: 'public', benches: [] });
  }

  /** consider looks whose link it is, and keeps the sign-in that there is. */
  async #consider(token: string, now: Schema['Session']): Promise<void> {
    this.take(now);
    const theirs = await ask(api.GET('/api/v1/session', { headers: bearer(token) }));
    if (theirs.actor !== now.actor) this.offer = { token, session: theirs };
  }

  /** take is who we are from now on: what a sign-in was answered with. */
  take(session: Schema['Session']): void {
    this.role = session.role;
    this.benches = session.benches;
    this.actor = session.actor;
    this.known = true;
    this.unreachable = false;
    this.lost = false;
    this.offer = undefined;
    this.said = undefined;
  }
}

/** The token speaks for itself, because a cookie would answer for somebody else. */
const bearer = (token: string) => ({ Authorization: `Bearer ${token}` });

/** enter exchanges a token for the cookie of a session; asked again for want of an answer, for the same one. */
const enter = (token: string) => api.POST('/api/v1/session', { body: { token } });

export const session = new Session();
