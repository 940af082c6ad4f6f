import { flushSync } from 'svelte';

let printing = $state(false);

/**
 * paper says whether the page is being put on paper. What stands on paper alone, such as a picture with thousands of
 * points, need not be made before.
 */
export const paper = {
  get printing(): boolean {
    return printing;
  },
};

/** The page is printed as it stands when the listeners have returned. */
const turn = (to: boolean) => flushSync(() => (printing = to));

addEventListener('beforeprint', () => turn(true));
addEventListener('afterprint', () => turn(false));
const media = window.matchMedia?.('print');
media?.addEventListener('change', () => turn(media.matches));
printing = media?.matches ?? false;
