import { Order, type Schema } from '$lib/api';

/** How long the keys rest before an order is sent: who moves a heat by five places sends one, and reads one plan. */
const restMs = 300;

/**
 * Moving is the order of the heats that wait, as it was last wanted: the board shows it at once, sends it when the keys
 * rest, and lets go of it when the day plan is as far as the order.
 */
export class Moving {
  /** The order that was wanted and is not in the plan yet. */
  wanted = $state.raw<string[]>();
  /** The heat that was moved last. */
  heat = $state<string>();
  readonly #order;
  readonly #sent;
  #seq = Infinity;
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** `sent` is told of every order that was carried out. */
  constructor(send: (key: string, order: string[]) => Promise<Schema['Receipt']>, sent: () => void) {
    this.#order = new Order(send);
    this.#sent = sent;
  }

  /** said is why the last move was refused. */
  get said(): string | undefined {
    return this.#order.said;
  }

  /** move wants a heat moved. */
  move(heat: string, order: string[]): void {
    this.wanted = order;
    this.heat = heat;
    this.#seq = Infinity;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.send(), restMs);
  }

  /** send sends what is wanted at once. What is wanted while an order is on its way is sent behind it. */
  async send(): Promise<void> {
    clearTimeout(this.#timer);
    let sent: string[] | undefined;
    while (!this.#order.busy && this.wanted && sent !== this.wanted && this.#seq === Infinity) {
      sent = this.wanted;
      const receipt = await this.#order.send(sent);
      if (!receipt) this.wanted = undefined;
      else if (sent === this.wanted) this.#seq = receipt.seq;
      if (receipt) this.#sent();
    }
  }

  /** reached lets go of what the plan of a position has. */
  reached(seq: number): void {
    if (seq >= this.#seq) this.wanted = undefined;
  }
}
