/**
 * How old an answer may be when the page comes to ask for it, in ms; what a page shows first is asked for again soon
 * anyway.
 */
const freshMs = 10_000;

interface Asked {
  answer: Promise<Response>;
  at: number;
}

/**
 * Answers holds what was asked of the server before the page itself could ask, each
 * for one taker. What failed or was refused is not handed on: the page asks itself.
 */
export class Answers {
  readonly #asked = new Map<string, Asked>();

  constructor(
    private readonly send: (url: string) => Promise<Response>,
    private readonly now: () => number = Date.now,
  ) {}

  /** ask begins to ask for an address. */
  ask(url: string): void {
    const answer = this.send(url);
    answer.catch(() => {}); // whoever takes it learns of it
    this.#asked.set(url, { answer, at: this.now() });
  }

  /**
   * take gives the answer to a request that was asked ahead, once; undefined where it
   * has to be asked for. An order makes all of them old, and a request that says by
   * itself who asks is another one.
   */
  take(request: Request): Promise<Response | undefined> | undefined {
    if (request.method !== 'GET') this.#asked.clear();
    const asked = this.#asked.get(request.url);
    if (!asked || request.headers.has('Authorization')) return undefined;
    this.#asked.delete(request.url);
    if (this.now() - asked.at > freshMs) return undefined;
    return asked.answer.then(
      (answer) => (answer.ok ? answer : undefined),
      () => undefined,
    );
  }
}
