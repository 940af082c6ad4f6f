import { getContext, hasContext, setContext, type Snippet } from 'svelte';

const place = Symbol('dialogs');

/**
 * Host shows the dialogs of what lies below it. What opened one may go while it is open:
 * a lane that starts loses its button "Ready", a heat its card. The dialog stays then,
 * with what was typed, and says so.
 */
export class Host {
  #dialogs = $state.raw<readonly Snippet[]>([]);

  static in(): Host {
    return setContext(place, new Host());
  }

  static around(): Host | undefined {
    return hasContext(place) ? getContext<Host>(place) : undefined;
  }

  get dialogs(): readonly Snippet[] {
    return this.#dialogs;
  }

  show(dialog: Snippet): void {
    if (!this.#dialogs.includes(dialog)) this.#dialogs = [...this.#dialogs, dialog];
  }

  hide(dialog: Snippet): void {
    this.#dialogs = this.#dialogs.filter((one) => one !== dialog);
  }
}
