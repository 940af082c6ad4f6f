import { inside } from '$lib/ahead/root';
import { match } from '$lib/route.svelte';
import { session } from '$lib/session.svelte';
import { BenchWatch } from './watch.svelte';

/** The watch of the bench that the page was opened for, until the page takes it. */
let opened: BenchWatch | undefined;

/** first asks for what the page shows first: who this phone is, and what its bench has to do. */
export async function first(): Promise<void> {
  const bench = match('/bench/:bench', inside(location.pathname))?.bench;
  await session.open();
  if (bench === undefined || !session.runs(bench)) return;
  opened = new BenchWatch(bench);
  await opened.begin();
}

/** watchOf is the watch of a bench, which may have looked already. */
export function watchOf(bench: string): BenchWatch {
  const watch = opened?.bench === bench ? opened : new BenchWatch(bench);
  opened = undefined;
  return watch;
}
