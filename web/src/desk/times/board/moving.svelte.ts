import { Order, type Schema } from '$lib/api';

/**
 * Moving is the order of the heats that wait, as it was last wanted: the board shows it at once, sends it, and lets go
 * of it when the day plan is as far as the order.
 */
export class Moving {
  /** The order that was wanted and is not in the plan yet. */
  wanted = $state.raw<string[]>();
  /** The heat that was moved last. */
  heat = $state<string>();
  readonly #order;
  #seq = Infinity;

  constructor(send: (key: string, order: string[]) => Promise<Schema['Receipt']>) {
    this.#order = new Order(send);
  }

  /** said is why the last move was refused. */
  get said(): string | undefined {
    return this.#order.said;
  }

  /** move wants a heat moved. What is wanted while an order is on its way is sent behind it. */
  async move(heat: string, order: string[]): Promise<boolean> {
    this.wanted = order;
    this.heat = heat;
    this.#seq = Infinity;
    if (this.#order.busy) return false;
    let sent: string[] | undefined;
    while (this.wanted && sent !== this.wanted) {
      sent = this.wanted;
      const receipt = await this.#order.send(sent);
      if (!receipt) {
        this.wanted = undefined;
        return false;
      }
      this.#seq = receipt.seq;
    }
    return true;
  }

  /** reached lets go of what the plan of a position has. */
  reached(seq: number): void {
    if (seq >= this.#seq) this.wanted = undefined;
  }
}
