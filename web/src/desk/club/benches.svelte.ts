import { api, ask } from '$lib/api';
import { Reading } from '$lib/reading.svelte';

/** benches are the benches of the club by number. */
export const benches = new Reading(async () =>
  (await ask(api.GET('/api/v1/benches'))).benches.toSorted((a, b) => a.number - b.number),
);
