import { untrack } from 'svelte';

/**
 * whenOpened fills a dialog's form each time it is opened, and not again while it is
 * open: news that comes meanwhile must not change what somebody is typing.
 */
export function whenOpened(open: () => boolean, fill: () => void): void {
  $effect.pre(() => {
    if (open()) untrack(fill);
  });
}
