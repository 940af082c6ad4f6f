import { untrack } from 'svelte';
import type { Attachment } from 'svelte/attachments';
import { split, type Block, type Lines } from './split';

/** Shape is a way to set a list: the size of its rows in rem, and in how many columns its blocks stand. */
export interface Shape {
  size: number;
  columns: number;
}

/** A column is at least so wide, in sizes of its rows: a plate, a number, a name and a word beside it. */
const columnEm = 14;

/**
 * Turn shows a list on a wall, which cannot be scrolled: in the first of its shapes in
 * which all has room, and else page after page. A list is made of blocks with rows
 * that bear `data-row`, or is one block of rows. Where a list may be as long as it
 * likes, as on a phone, there is one page.
 */
export class Turn {
  pages = $state.raw<Lines[]>([{ from: 0, to: 0 }]);
  /** A row of the page shown: what is shown stays when the pages become larger or smaller. */
  #row = $state(0);
  #look: (() => void) | undefined;

  constructor(readonly shapes: readonly Shape[] = []) {}

  get at(): number {
    return Math.max(
      0,
      this.pages.findLastIndex((page) => page.from <= this.#row),
    );
  }

  get lines(): Lines {
    return this.pages[this.at]!;
  }

  /** next turns the page; false where it began again. */
  next(): boolean {
    const next = this.pages[this.at + 1];
    this.#row = next?.from ?? 0;
    this.#look?.();
    return next !== undefined;
  }

  /** again shows the first page: the list is about something else or newer. */
  again(): void {
    untrack(() => {
      if (this.#row === 0) return;
      this.#row = 0;
      this.#look?.();
    });
  }

  /** list watches the element of the list. */
  readonly list: Attachment<HTMLElement> = (list) => {
    const look = () => untrack(() => this.#show(list));
    this.#look = look;
    // Told of its size before it is first painted, when that needs no reckoning of its own.
    const size = new ResizeObserver(look);
    size.observe(list);
    const content = new MutationObserver(look);
    content.observe(list, { childList: true, subtree: true, characterData: true });
    document.fonts?.addEventListener('loadingdone', look);
    return () => {
      document.fonts?.removeEventListener('loadingdone', look);
      size.disconnect();
      content.disconnect();
      if (this.#look === look) this.#look = undefined;
    };
  };

  #show(list: HTMLElement): void {
    const items = elements(list.children);
    const groups = items.map((item) => elements(item.querySelectorAll('[data-row]')));
    const rows = groups.some((group) => group.length > 0) ? groups.flat() : items;
    for (const each of new Set([...items, ...rows])) each.style.removeProperty('display');
    const all = this.#setShape(list);
    const pages = all ? [{ from: 0, to: rows.length }] : split(blocksOf(list, items, groups), list.clientHeight + 1);
    if (JSON.stringify(pages) !== JSON.stringify(this.pages)) this.pages = pages;
    const { from, to } = this.lines;
    for (const [i, each] of rows.entries()) if (i < from || i >= to) each.style.display = 'none';
    let first = 0;
    for (const [i, group] of groups.entries()) {
      const last = first + group.length;
      if (group.length > 0 && (last <= from || first >= to)) items[i]!.style.display = 'none';
      first = last;
    }
  }

  /** #setShape sets the list in the first shape in which all has room, or in the last; it says whether all has room. */
  #setShape(list: HTMLElement): boolean {
    const roomy = () => list.scrollHeight <= list.clientHeight + 1;
    if (this.shapes.length === 0) return roomy();
    const rem = parseFloat(getComputedStyle(document.documentElement).fontSize);
    for (const { size, columns } of this.shapes) {
      if (columns > 1 && (list.children.length < columns || list.clientWidth < columns * columnEm * size * rem))
        continue;
      list.style.setProperty('--size', `${size}rem`);
      list.style.setProperty('--columns', String(columns));
      if (roomy()) return true;
    }
    list.style.setProperty('--columns', '1');
    return false;
  }
}

/** turnEvery turns pages as long as `turning` is true; both are asked again when they change. */
export function turnEvery(ms: () => number, turning: () => boolean, next: () => void): void {
  const pause = $derived(turning() ? ms() : 0);
  $effect(() => {
    if (pause === 0) return;
    const timer = setInterval(next, pause);
    return () => clearInterval(timer);
  });
}

/** pageMs is how long a page stays so that all are seen within a time, in ms; a page is to be read, and not to bore. */
export const pageMs = (pages: number, within: number, least = 3_000, most = 12_000): number =>
  Math.min(most, Math.max(least, Math.floor(within / Math.max(1, pages))));

const elements = (list: Iterable<Element>): HTMLElement[] =>
  [...list].filter((each): each is HTMLElement => each instanceof HTMLElement);

/** blocksOf measures the items of a list that shows all of them in one column. */
function blocksOf(list: HTMLElement, items: HTMLElement[], groups: HTMLElement[][]): Block[] {
  const top = (each: HTMLElement) => each.getBoundingClientRect().top;
  const end = list.getBoundingClientRect().top - list.scrollTop + list.scrollHeight;
  const heights = (rows: HTMLElement[], below: number) =>
    rows.map((row, i) => (rows[i + 1] ? top(rows[i + 1]!) : below) - top(row));
  if (!groups.some((group) => group.length > 0)) return [{ head: 0, rows: heights(items, end) }];
  return items.map((item, i) => {
    const rows = groups[i]!;
    const below = items[i + 1] ? top(items[i + 1]!) : end;
    return rows.length > 0
      ? { head: top(rows[0]!) - top(item), rows: heights(rows, below) }
      : { head: below - top(item), rows: [] };
  });
}
