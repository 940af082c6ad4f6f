import type { Attachment } from 'svelte/attachments';

/**
 * fit hides the items of a list that it has no room for as a whole, and tells how
 * many: a hall screen cannot be scrolled. The first item stays, and where even
 * that has no room, the rows within it that do not fit are hidden, and how many
 * is told too: elements with `data-row`. A list without a fixed height, as on a
 * phone, has room for all.
 */
export function fit(told: (hidden: number, rows: number) => void): Attachment<HTMLElement> {
  return (list) => {
    const look = () => {
      const items = [...list.children].filter((e): e is HTMLElement => e instanceof HTMLElement);
      const rows = [...(items[0]?.querySelectorAll<HTMLElement>('[data-row]') ?? [])];
      // Of all: an item that is not the first any more may have been it, and lost rows.
      for (const each of [...items, ...list.querySelectorAll<HTMLElement>('[data-row]')])
        each.style.removeProperty('display');
      const bottom = list.getBoundingClientRect().bottom + 1;
      const [over, rowsOver] = [after(items, bottom), after(rows, bottom)];
      for (const each of [...over, ...rowsOver]) each.style.display = 'none';
      told(over.length, rowsOver.length);
    };
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
    };
  };
}

/** after gives the first element but one that ends below the bottom, and all that follow it. */
function after(elements: HTMLElement[], bottom: number): HTMLElement[] {
  const first = elements.findIndex((e, i) => i > 0 && e.getBoundingClientRect().bottom > bottom);
  return first < 0 ? [] : elements.slice(first);
}
