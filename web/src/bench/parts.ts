import { page, part } from '$lib/page';

/**
 * What a heat does not need. It loads when it is wanted, or a little before, see
 * `ready`. Whatever a phone that is cut off needs in a heat is in the page from the start.
 */
export const parts = {
  free: part(() => import('./Free.svelte'), 'practice'),
  choose: page(() => import('./Choose.svelte')),
  out: part(() => import('./Out.svelte')),
  signIn: page(() => import('./SignIn.svelte'), 'sign-in'),
  practising: part(() => import('./Practising.svelte'), 'practice'),
};

/** ready fetches, soon after the page is there, what comes after the heat, also where the network is gone by then. */
export function ready(): () => void {
  const timer = setTimeout(() => void parts.free(), 2_000);
  return () => clearTimeout(timer);
}
