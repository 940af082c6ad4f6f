import type { Attachment } from 'svelte/attachments';

/**
 * fit hides the items of a list that its box has no room for as a whole, and
 * tells how many it hid: a hall screen cannot be scrolled. A box without a fixed
 * height, as on a phone, has room for all. The first item always stays.
 */
export function fit(told: (hidden: number) => void): Attachment<HTMLElement> {
  return (list) => {
    const look = () => {
      const items = [...list.children].filter((e): e is HTMLElement => e instanceof HTMLElement);
      for (const item of items) item.style.removeProperty('display');
      const bottom = list.getBoundingClientRect().bottom + 1;
      const first = items.findIndex((item, i) => i > 0 && item.getBoundingClientRect().bottom > bottom);
      const kept = first < 0 ? items.length : first;
      for (const item of items.slice(kept)) item.style.display = 'none';
      told(items.length - kept);
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
