import { inside } from '$lib/ahead/root';
import { hasCross } from '$lib/bracket/cross';
import { match } from '$lib/route.svelte';
import { MeetWatch } from './watch.svelte';

/** hallWatch follows all that the hall view shows of a meet. */
const hallWatch = (id: string) =>
  new MeetWatch(id, (meet) => [
    'meet',
    'board',
    'day-plan',
    'speed',
    ...(meet?.divisions ?? []).map((d) => `standings/${d.id}` as const),
    ...(meet?.divisions ?? [])
      .filter((d) => hasCross(d.stages[d.stage - 1]?.kind))
      .map((d) => `bracket/${d.id}` as const),
  ]);

/** The watch of the meet that the page was opened for, until the page takes it. */
let opened: MeetWatch | undefined;

/** first asks for what the hall view shows first, where the page was opened for it. */
export async function first(): Promise<void> {
  const meet = match('/m/:meet', inside(location.pathname))?.meet;
  if (meet === undefined) return;
  opened = hallWatch(meet);
  await opened.read();
}

/** watchOf is the watch of a meet's hall view, which may have read already. */
export function watchOf(id: string): MeetWatch {
  const watch = opened?.id === id ? opened : hallWatch(id);
  opened = undefined;
  return watch;
}
