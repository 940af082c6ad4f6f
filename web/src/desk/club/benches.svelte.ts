import { api, ask } from '$lib/api';
import { Kept } from '../day/kept.svelte';

/** benches are the benches of the club by number. */
export const benches = new Kept(async () => (await ask(api.GET('/api/v1/benches'))).benches.toSorted((a, b) => a.number - b.number));
