/** A live region has to be there before its text: screen readers leave out what comes along with it. */
const afterMs = 150;
/** As long as anybody needs to hear it; then it is empty, so that the same words are heard when they come again. */
const clearMs = 10_000;

/**
 * Told is what a live region says of a list that changes: each thing when it comes, and not again however often the
 * list does. What was there when the page was opened is no news.
 */
export class Told {
  /** What the region says. */
  now = $state('');
  #known: Set<string> | undefined;
  #waiting: string[] = [];
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** `before` is what was there when the page was opened; without it what the first list has. */
  constructor(before?: readonly string[]) {
    this.#known = before && new Set(before);
  }

  /** take looks through the list as it is now; `sentence` makes one of what is new. */
  take(list: readonly { key: string; says: string }[], sentence = (told: string[]) => told.join(' ')): void {
    if (this.#known) this.#waiting.push(...list.filter(({ key }) => !this.#known!.has(key)).map(({ says }) => says));
    this.#known = new Set(list.map(({ key }) => key));
    if (this.#waiting.length === 0) return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      this.now = sentence(this.#waiting);
      this.#waiting = [];
      this.#timer = setTimeout(this.end, clearMs);
    }, afterMs);
  }

  /** end empties the region, for good where nothing more is taken. */
  end = (): void => {
    clearTimeout(this.#timer);
    this.now = '';
  };
}
