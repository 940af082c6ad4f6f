import { api, ask } from '$lib/api';
import { Reading } from '$lib/reading.svelte';
import { cover } from '../cover/cover.svelte';

/** people is the club's list, by name. */
export const people = new Reading(async () => {
  const { people } = await ask(api.GET('/api/v1/people'));
  return people.toSorted((a, b) => a.name.localeCompare(b.name) || a.id.localeCompare(b.id));
});

// The list outlives the pages, so it is forgotten when the cover comes or goes.
cover.onTurn(() => people.anew()());
