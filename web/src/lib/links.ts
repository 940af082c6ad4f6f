import { root, within } from './ahead/root';

/**
 * leadLinks has links lead to the pages of a club that shares its host once somebody is about to follow them: by
 * pointer, by key, or in another tab.
 */
export function leadLinks(): void {
  const lead = ({ target }: Event) => {
    const link = target instanceof Element ? target.closest('a[href]') : null;
    const path = link?.getAttribute('href');
    if (path?.startsWith('/') && !within(path)) link!.setAttribute('href', root + path);
  };
  for (const kind of ['pointerdown', 'focusin', 'click']) document.addEventListener(kind, lead, true);
}
