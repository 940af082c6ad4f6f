import { isOurs } from './receipt';
import { Unreachable } from './problem';

/** Limits of one try, in ms. */
export interface Limits {
  /**
   * For the head of the answer, and between two pieces of its body. A long download may take as long as it likes
   * while something comes.
   */
  silence: number;
  /** For the whole answer to an order, which is short. */
  order: number;
}

export const usual: Limits = { silence: 10_000, order: 20_000 };

/**
 * exchange sends a request once and gives the answer when all of it is there and
 * it is the server's own. It throws Unreachable where nothing came in time, where
 * the answer broke off, and where something else answered; in all three nobody
 * knows what became of an order. It throws what `signal` gives when the caller
 * aborted, by the request or by a signal of its own.
 */
export const exchange =
  (send: typeof fetch, limits: Limits = usual, signal?: AbortSignal): typeof fetch =>
  async (asked, init) => {
    const request = asked instanceof Request && !init ? asked : new Request(asked, init);
    const left = signal ?? request.signal;
    const patience = new Patience(request.method === 'GET' ? undefined : limits.order, limits.silence, left);
    try {
      const head = await patience.until(send(request, { signal: patience.signal }));
      const body = await readAll(head, patience);
      if (head.redirected || !isOurs(request, head, body)) throw new Unreachable('strange');
      return new Response(body, { status: head.status, statusText: head.statusText, headers: head.headers });
    } catch (failure) {
      if (left.aborted) throw left.reason;
      throw failure instanceof Unreachable ? failure : new Unreachable();
    } finally {
      patience.end();
    }
  };

/** readAll reads a body to its end; null where an answer has none. */
async function readAll(answer: Response, patience: Patience): Promise<Uint8Array<ArrayBuffer> | null> {
  if (!answer.body) return null;
  const reader = answer.body.getReader();
  const pieces: Uint8Array[] = [];
  for (;;) {
    const { done, value } = await patience.until(reader.read());
    if (done) break;
    pieces.push(value);
  }
  if (pieces.length === 0) return null;
  const whole = new Uint8Array(pieces.reduce((sum, one) => sum + one.length, 0));
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}

/** Patience gives up waiting: after silence, after too long for an order, or when the caller does. */
class Patience {
  readonly #cut = new AbortController();
  readonly #total: ReturnType<typeof setTimeout> | undefined;

  constructor(
    totalMs: number | undefined,
    readonly silenceMs: number,
    readonly caller: AbortSignal,
  ) {
    if (totalMs !== undefined) this.#total = setTimeout(this.#giveUp, totalMs);
    caller.addEventListener('abort', this.#giveUp);
    if (caller.aborted) this.#giveUp();
  }

  get signal(): AbortSignal {
    return this.#cut.signal;
  }

  /** until waits for something, though what is waited for may ignore the signal. */
  until<T>(what: Promise<T>): Promise<T> {
    return new Promise((done, failed) => {
      const gaveUp = () => failed(new Unreachable());
      if (this.signal.aborted) gaveUp();
      this.signal.addEventListener('abort', gaveUp);
      const timer = setTimeout(this.#giveUp, this.silenceMs);
      what.then(done, failed).finally(() => {
        clearTimeout(timer);
        this.signal.removeEventListener('abort', gaveUp);
      });
    });
  }

  end(): void {
    clearTimeout(this.#total);
    this.caller.removeEventListener('abort', this.#giveUp);
  }

  #giveUp = (): void => this.#cut.abort();
}
