import { SvelteMap } from 'svelte/reactivity';
import { getContext, hasContext, setContext } from 'svelte';

const place = Symbol('mistakes');

/**
 * Mistakes are what is wrong with the fields of a form, by a field's id or by its name
 * in the order. The form fills them in; each Field in it shows its own.
 */
export class Mistakes {
  readonly #says = new SvelteMap<string, string>();

  /** in gives the fields below the component that is being made a place for theirs. */
  static in(): Mistakes {
    return setContext(place, new Mistakes());
  }

  /** around is that of the form around, if there is one. */
  static around(): Mistakes | undefined {
    return hasContext(place) ? getContext<Mistakes>(place) : undefined;
  }

  of(id: string, name: string | undefined): string | undefined {
    return this.#says.get(id) ?? (name === undefined ? undefined : this.#says.get(name));
  }

  set(field: string, says: string): void {
    this.#says.set(field, says);
  }

  get any(): boolean {
    return this.#says.size > 0;
  }

  clear(): void {
    this.#says.clear();
  }

  /** drop takes the mistake of a field away: it is being put right. */
  drop(control: { id: string; name: string }): void {
    this.#says.delete(control.id);
    this.#says.delete(control.name);
  }
}
