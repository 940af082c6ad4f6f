import { cut, page, problem, receipt } from './answers';

/** Random numbers from a seed (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

interface Asked {
  key: string;
  withdraw: boolean;
  content: string;
}

/**
 * ModelServer is the server as api/openapi.yaml promises it: one effect a key, the
 * same answer to a retry, other content under a key refused, refusals not
 * remembered, and what was taken back never carried out. While the meet is paused
 * orders are refused; one whose body holds "poison" meets a fault each time.
 */
export class ModelServer {
  /** What was carried out, in order. */
  readonly log: string[] = [];
  signedIn = true;
  paused = false;
  readonly #answers = new Map<string, { content: string; withdrawn: boolean }>();

  answer({ key, withdraw, content }: Asked): Response {
    if (!this.signedIn) return problem(key, 401, 'sign-in');
    const known = this.#answers.get(key);
    if (known && known.content !== content) return problem(key, 409, 'order-id-used');
    if (known)
      return known.withdrawn ? problem(key, 409, 'order-withdrawn') : receipt(key, {}, { 'Order-Again': 'true' });
    if (withdraw) {
      this.#answers.set(key, { content, withdrawn: true });
      return problem(key, 409, 'order-withdrawn');
    }
    if (content.includes('poison')) return problem(key, 500, 'internal');
    if (this.paused) return problem(key, 409, 'paused');
    this.#answers.set(key, { content, withdrawn: false });
    this.log.push(content);
    return receipt(key);
  }

  /** done is how often something was carried out. */
  done(marker: string): number {
    return this.log.filter((content) => content.includes(marker)).length;
  }
}

/** What a bad Wi-Fi does to one request. */
export const faults = [
  'log-in page',
  'forbidden page',
  'bad gateway',
  'unavailable page',
  'cut before',
  'cut head',
  'cut body',
  'short body',
  'hanging body',
  'silence before',
  'silence after',
  'comes late',
  'of another',
  'fault after',
] as const;
export type Fault = (typeof faults)[number];

/** BadWifi stands between the pages and a server. `rate` is the share of requests that meet a fault. */
export class BadWifi {
  rate: number;
  /** Requests whose sender was told nothing and that are still on their way. */
  readonly #onTheirWay: Asked[] = [];
  #before: Response | undefined;
  readonly met = new Map<Fault, number>();

  constructor(
    readonly server: ModelServer,
    readonly random: () => number,
    rate: number,
  ) {
    this.rate = rate;
  }

  fetch: typeof fetch = async (input, init) => {
    const request = new Request(new URL(input instanceof Request ? input.url : String(input), 'http://hall.test'), {
      method: input instanceof Request ? input.method : (init?.method ?? 'GET'),
      headers: input instanceof Request ? input.headers : (init?.headers ?? {}),
      ...(input instanceof Request
        ? input.method === 'GET'
          ? {}
          : { body: await input.clone().text() }
        : { body: init?.body ?? null }),
    });
    const signal = init?.signal;
    await new Promise((next) => setTimeout(next, 0));
    if (signal?.aborted) throw new DOMException('given up', 'AbortError');
    if (request.method === 'GET') {
      return new Response('{"heats":[]}', { headers: { 'Content-Type': 'application/json' } });
    }
    const asked: Asked = {
      key: request.headers.get('Idempotency-Key') ?? '',
      withdraw: request.headers.get('Order-Withdraw') === 'true',
      content: `${request.method} ${new URL(request.url).pathname}\n${await request.text()}`,
    };
    if (this.#onTheirWay.length > 0 && this.random() < 0.3) this.deliver();
    return this.#meet(asked);
  };

  /** deliver lets what is still on its way arrive, the oldest first. */
  deliver(): void {
    const late = this.#onTheirWay.shift();
    if (late) void this.server.answer(late);
  }

  /** deliverAll is for the end: nothing is on its way any more. */
  deliverAll(): void {
    while (this.#onTheirWay.length > 0) this.deliver();
  }

  async #meet(asked: Asked): Promise<Response> {
    const fault = this.random() < this.rate ? faults[Math.floor(this.random() * faults.length)]! : undefined;
    if (fault) this.met.set(fault, (this.met.get(fault) ?? 0) + 1);
    const carry = () => {
      const answer = this.server.answer(asked);
      this.#before = answer.clone();
      return answer;
    };
    const earlier = this.#before?.clone();
    const half = Math.floor(this.random() * 60);
    switch (fault) {
      case undefined:
        return carry();
      case 'log-in page':
        return page(200);
      case 'forbidden page':
        return page(403);
      case 'bad gateway':
        return page(502);
      case 'unavailable page':
        return page(503);
      case 'cut before':
        throw new TypeError('Failed to fetch');
      case 'cut head':
        carry();
        throw new TypeError('Failed to fetch');
      case 'cut body':
        return cut(carry(), half, 'told');
      case 'short body':
        return cut(carry(), half, 'silent');
      case 'hanging body':
        return cut(carry(), half, 'hangs');
      case 'silence before':
        return new Promise(() => {});
      case 'silence after':
        carry();
        return new Promise(() => {});
      case 'comes late':
        this.#onTheirWay.push(asked);
        throw new TypeError('Failed to fetch');
      case 'of another':
        // A yes or a no that was meant for another order, whole and in form.
        carry();
        if (earlier && earlier.headers.get('Idempotency-Key') !== asked.key) return earlier;
        return this.random() < 0.5
          ? receipt('0190a000-0000-7000-8000-00000000ffff')
          : problem('0190a000-0000-7000-8000-00000000ffff', 409, 'paused');
      case 'fault after':
        carry();
        return problem(asked.key, 500, 'internal');
    }
  }
}

/**
 * seedOf is the seed of a test run: the same each time, so that a failure is one of the change at hand; SEED of the
 * environment plays other mixtures.
 */
export function seedOf(what: string): number {
  const seed = Number(process.env['SEED'] ?? 370_214_616);
  console.info(`${what}: SEED=${seed}`);
  return seed;
}
