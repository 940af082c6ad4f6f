import type { Schema } from '$lib/api';
import { arranged, byLot, moved, sorted, type Method } from './order';

type SeedOrder = Schema['SeedOrder'];
interface Step {
  method: Method;
  entries: string[];
}

/**
 * Draft is a seed order while somebody arranges it: it begins as the server has it,
 * every change can be taken back, and nothing is kept until it is sent.
 */
export class Draft {
  method = $state<Method>('lot');
  entries = $state.raw<string[]>([]);
  #past = $state.raw<Step[]>([]);
  #lines = $state.raw(new Map<string, Schema['SeedLine']>());
  #server = $state.raw<SeedOrder>();

  /**
   * follow takes a newer reading: an untouched draft becomes it, a touched one takes in who came and lets go who
   * left.
   */
  follow(order: SeedOrder): void {
    this.#server = order;
    this.#lines = new Map(order.lines.map((l) => [l.racer.entry, l]));
    const ids = order.lines.map((l) => l.racer.entry);
    this.entries = this.touched ? arranged(this.entries, ids) : ids;
    if (!this.touched) {
      this.method = order.method ?? order.usual;
      if (!order.method) this.entries = sorted(order.usual, order.lines).map((l) => l.racer.entry);
    }
    this.#past = this.#past.map((step) => ({ ...step, entries: arranged(step.entries, ids) }));
  }

  get touched(): boolean {
    return this.#past.length > 0;
  }

  /** lines are the entries in the order of the draft. */
  get lines(): Schema['SeedLine'][] {
    return this.entries.flatMap((id) => this.#lines.get(id) ?? []);
  }

  /** asked says that the order is not the one that the server has: what it leaves to lot is still to be drawn. */
  get asked(): boolean {
    return this.touched || this.#server?.method !== this.method;
  }

  /** byLot says that no place is known. */
  get byLot(): boolean {
    return this.asked && this.method === 'lot';
  }

  /** isByLot says that the place of a line is not known. */
  isByLot = (line: Schema['SeedLine']): boolean => this.asked && byLot(this.method, line);

  /** known are those whose place the order settles. */
  get known(): string[] {
    return this.lines.filter((l) => !this.isByLot(l)).map((l) => l.racer.entry);
  }

  move(from: number, to: number): boolean {
    const entries = moved(this.entries, from, to);
    if (entries === undefined) return false;
    this.#change({ method: 'hand', entries });
    return true;
  }

  sort(method: Method): void {
    if (this.#server) this.#change({ method, entries: sorted(method, this.lines).map((l) => l.racer.entry) });
  }

  undo(): void {
    const before = this.#past.at(-1);
    if (!before) return;
    [this.method, this.entries] = [before.method, before.entries];
    this.#past = this.#past.slice(0, -1);
  }

  /** forget goes back to what the server has. */
  forget(): void {
    this.#past = [];
    if (this.#server) this.follow(this.#server);
  }

  /** body is what is sent. */
  get body(): Schema['SeedOrderBody'] {
    return this.method === 'hand' ? { method: 'hand', order: this.entries } : { method: this.method };
  }

  #change(to: Step): void {
    this.#past = [...this.#past, { method: this.method, entries: this.entries }];
    [this.method, this.entries] = [to.method, to.entries];
  }
}
