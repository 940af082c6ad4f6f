import { untrack } from 'svelte';
import { inside, outside } from './ahead/root';

/** Params are the named parts of a path pattern. */
export type Params<Pattern extends string> = Pattern extends `${string}:${infer Name}/${infer Rest}`
  ? { [K in Name | keyof Params<`/${Rest}`>]: string }
  : Pattern extends `${string}:${infer Name}`
    ? { [K in Name]: string }
    : Record<never, string>;

/**
 * match compares a path with a pattern such as `/m/:meet/standings/:division` and
 * gives the named parts, or undefined. A slash at the end does not matter.
 */
export function match<Pattern extends string>(pattern: Pattern, path: string): Params<Pattern> | undefined {
  const wanted = pattern.split('/').filter(Boolean);
  const given = path.split('/').filter(Boolean);
  if (wanted.length !== given.length) return undefined;
  const params: Record<string, string> = {};
  for (const [i, part] of wanted.entries()) {
    const value = given[i]!;
    if (part.startsWith(':')) params[part.slice(1)] = decode(value);
    else if (part !== value) return undefined;
  }
  return params as Params<Pattern>;
}

function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

/**
 * Route is the address of the page, reactive. Links to pages of the same face do
 * not load it anew, unless they are rel="external"; what else there is, such as another face, is left to the
 * browser.
 */
class Route {
  path = $state(inside(location.pathname));
  query = $state.raw(new URLSearchParams(location.search));
  /** How many pages were opened since the face was: a page that is drawn after the first takes the focus. */
  opened = $state(0);
  /** The title of the page that was opened last, to be announced. */
  title = $state('');
  #faces: (path: string) => boolean = () => false;

  /** start follows links for which `ours` is true, and the back button. */
  start(ours: (path: string) => boolean): void {
    this.#faces = ours;
    addEventListener('popstate', () => {
      const from = this.path;
      this.#read();
      if (this.path !== from) this.#arrive();
    });
    document.addEventListener('click', (event) => {
      const link = event.target instanceof Element ? event.target.closest('a[href]') : null;
      if (!(link instanceof HTMLAnchorElement) || event.defaultPrevented || event.button !== 0) return;
      if (
        event.metaKey ||
        event.ctrlKey ||
        event.shiftKey ||
        event.altKey ||
        link.target ||
        link.rel === 'external' ||
        link.hasAttribute('download')
      )
        return;
      const to = new URL(link.href);
      if (to.origin !== location.origin || !this.#faces(inside(to.pathname))) return;
      if (to.hash && to.pathname === location.pathname) return;
      event.preventDefault();
      this.go(to.pathname + to.search);
    });
  }

  /**
   * go opens another page of this face; `replace` leaves no step back, and `stay`
   * is for another state of the same page: nothing scrolls and the focus stays.
   */
  go(to: string, { replace = false, stay = false } = {}): void {
    history[replace ? 'replaceState' : 'pushState'](null, '', outside(to));
    this.#read();
    if (stay) return;
    scrollTo(0, 0);
    this.#arrive();
  }

  /** #arrive has readers of a screen reader start at the new page's top: where each page has its own, see heading. */
  #arrive(): void {
    this.opened++;
    document.getElementById('content')?.focus({ preventScroll: true });
  }

  /** heading is for the h1 of a page: once drawn it takes the focus, where the page came by a link or a step back. */
  readonly heading = (h1: HTMLElement): void => {
    if (untrack(() => this.opened) === 0) return;
    h1.tabIndex = -1;
    h1.focus({ preventScroll: true });
  };

  #read(): void {
    this.path = inside(location.pathname);
    this.query = new URLSearchParams(location.search);
  }
}

export const route = new Route();
