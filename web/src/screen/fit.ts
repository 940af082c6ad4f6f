import type { Attachment } from 'svelte/attachments';

/**
 * fit hides what a list has no room for, in whole rows, and tells how many of its
 * items it hid altogether: a hall screen cannot be scrolled. Rows are the
 * elements with `data-row` within the items, or else the items themselves. A list
 * without a fixed height, as on a phone, has room for all. The first row always
 * stays.
 */
export function fit(told: (hidden: number) => void): Attachment<HTMLElement> {
  return (list) => {
    const look = () => {
      const items = [...list.children].filter((e): e is HTMLElement => e instanceof HTMLElement);
      const marked = [...list.querySelectorAll<HTMLElement>('[data-row]')];
      const rows = marked.length > 0 ? marked : items;
      for (const each of [...items, ...rows]) each.style.removeProperty('display');
      const bottom = list.getBoundingClientRect().bottom + 1;
      const over = rows.findIndex((row, i) => i > 0 && row.getBoundingClientRect().bottom > bottom);
      const hidden = new Set(over < 0 ? [] : rows.slice(over));
      for (const row of hidden) row.style.display = 'none';
      const gone = items.filter((item) => hidden.has(item) || allHidden(item, hidden));
      for (const item of gone) item.style.display = 'none';
      told(gone.length);
    };
    const size = new ResizeObserver(look);
    size.observe(list);
    const content = new MutationObserver(look);
    content.observe(list, { childList: true, subtree: true, characterData: true });
    void document.fonts?.ready.then(look);
    look();
    return () => {
      size.disconnect();
      content.disconnect();
    };
  };
}

/** An item goes with its last row; its title would say nothing. */
function allHidden(item: HTMLElement, hidden: Set<HTMLElement>): boolean {
  const rows = [...item.querySelectorAll<HTMLElement>('[data-row]')];
  return rows.length > 0 && rows.every((row) => hidden.has(row));
}
