import { Unreachable } from './problem';

/** How long to wait before each further try, in ms. */
const waits = [400, 1000, 2500];

/** Answers of something in between, such as a proxy, while the server restarts. */
const passing = new Set([502, 503, 504]);

/** Posts that have no key: a second one would do the thing twice. */
const onceOnly = ['/api/v1/session', '/api/v1/tokens'];

export const repeatable = (request: Request): boolean =>
  request.method === 'GET' || request.method === 'PUT' || !onceOnly.includes(new URL(request.url).pathname);

export type Sleep = (ms: number) => Promise<void>;
const sleep: Sleep = (ms) => new Promise((done) => setTimeout(done, ms));

/**
 * retrying sends a request until an answer comes, a few times. The request, and
 * with it its Idempotency-Key, is the same each time, so nothing is done twice.
 * It throws Unreachable when every try failed, and what `signal` gives when the
 * caller aborted.
 */
export function retrying(send: typeof fetch, pause: Sleep = sleep): (request: Request) => Promise<Response> {
  return async (request) => {
    const tries = repeatable(request) ? waits.length + 1 : 1;
    for (let n = 1; ; n++) {
      try {
        const answer = await send(request.clone());
        if (!passing.has(answer.status) || n >= tries) return answer;
      } catch (failure) {
        if (request.signal.aborted) throw failure;
        if (n >= tries) throw new Unreachable();
      }
      await pause(waits[n - 1]!);
    }
  };
}
