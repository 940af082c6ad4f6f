import { ours } from '$lib/ahead/root';
import { SvelteMap } from 'svelte/reactivity';
import { drawOf, type RoundOnPaper } from './rounds';

/**
 * Sent is which draws went to a printer from this browser. No server knows of paper, and a browser does not tell
 * whether a sheet came out: it is "from this desk", and no more is said.
 */
export class Sent {
  readonly #draws = new SvelteMap<string, string>();
  readonly #place: string;

  constructor(meet: string) {
    this.#place = ours(`benchmeet-paper-${meet}`);
    for (const [round, draw] of read(this.#place)) this.#draws.set(round, draw);
  }

  /** has says whether a round, as it is drawn now, was sent. */
  has = (round: RoundOnPaper): boolean => this.#draws.get(round.key) === drawOf(round);

  note(rounds: readonly RoundOnPaper[]): void {
    for (const round of rounds) this.#draws.set(round.key, drawOf(round));
    try {
      localStorage.setItem(this.#place, JSON.stringify([...this.#draws]));
    } catch {
      // A browser that keeps nothing asks again after a reload.
    }
  }
}

function read(place: string): [string, string][] {
  try {
    return JSON.parse(localStorage.getItem(place) ?? '[]') as [string, string][];
  } catch {
    return [];
  }
}
