import { api, ask } from '$lib/api';
import { Reading } from '$lib/reading.svelte';

/** people is the club's list, by name. */
export const people = new Reading(async () => {
  const { people } = await ask(api.GET('/api/v1/people'));
  return people.toSorted((a, b) => a.name.localeCompare(b.name) || a.id.localeCompare(b.id));
});
