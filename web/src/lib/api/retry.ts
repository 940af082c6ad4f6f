import { backoff } from '../again';
import { Unreachable } from './problem';
import { orderKey, isOrder } from './receipt';

/** How often a request is sent at most; it ends within about five seconds where every try fails at once. */
const mostTries = 4;

/** Whoever pressed should not wait for much longer than this for a sentence, in ms. */
const longEnoughMs = 15_000;

export type Sleep = (ms: number) => Promise<void>;
const sleep: Sleep = (ms) => new Promise((done) => setTimeout(done, ms));

/**
 * retrying sends a request until an answer comes, a few times. The request, and
 * with it its Idempotency-Key, is the same each time, so nothing is done twice; an
 * order without a key is sent once. It throws Unreachable when every try failed,
 * and what `signal` gives when the caller aborted.
 */
export function retrying(send: typeof fetch, pause: Sleep = sleep): (request: Request) => Promise<Response> {
  return async (request) => {
    const tries = isOrder(request) && !request.headers.has(orderKey) ? 1 : mostTries;
    const began = Date.now();
    const last = (n: number) => n >= tries || Date.now() - began > longEnoughMs;
    for (let n = 1; ; n++) {
      try {
        const answer = await send(request.clone());
        if (answer.status !== 503 || last(n)) return answer; // it is starting, or has too much to do
      } catch (failure) {
        if (request.signal.aborted) throw failure;
        if (last(n)) throw failure instanceof Unreachable ? failure : new Unreachable();
      }
      await pause(backoff(n - 1));
    }
  };
}
