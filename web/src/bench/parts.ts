import { page, part } from '$lib/page';

/**
 * What a heat does not need at once. It loads when it is wanted, or a little before, see
 * `ready`: a phone that is cut off later has it by then.
 */
export const parts = {
  free: part(() => import('./Free.svelte'), 'practice', 'afternoon'),
  choose: page(() => import('./Choose.svelte')),
  out: part(() => import('./Out.svelte')),
  signIn: page(() => import('./SignIn.svelte'), 'sign-in'),
  practising: part(() => import('./Practising.svelte'), 'practice'),
  afternoon: part(() => import('./afternoon/Afternoon.svelte'), 'afternoon', 'practice'),
  askRerun: part(() => import('./AskRerun.svelte')),
  handCount: part(() => import('./HandCount.svelte'), 'count'),
  official: part(() => import('./phone/Official.svelte'), 'phone'),
  box: part(() => import('./Box.svelte'), 'practice'),
  phone: part(() => import('./phone/Phone.svelte'), 'phone'),
};

/**
 * ready fetches, soon after the page is there, what comes after the call, also where the
 * network is gone by then, and says when it has begun.
 */
export function ready(begun: () => void): () => void {
  const timer = setTimeout(() => {
    begun();
    for (const one of [parts.askRerun, parts.handCount, parts.free]) void one();
  }, 2_000);
  return () => clearTimeout(timer);
}
