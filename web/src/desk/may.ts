import type { Schema } from '$lib/api';
import { session } from '$lib/session.svelte';

type Role = Schema['Role'];
const oneOf = (roles: readonly Role[]) => () => roles.includes(session.role);

/** What whoever is signed in may do at the desk; the server has the last word. */
export const may = {
  organise: oneOf(['organiser']),
  /** Write people down and enter them; see dates of birth. */
  enter: oneOf(['organiser', 'official']),
  /** Call, start, draw and rule. */
  rule: oneOf(['organiser', 'official', 'referee']),
  /** Check in, and look at cars and batteries. */
  inspect: oneOf(['organiser', 'official', 'inspector']),
  /** Open the desk at all. */
  open: oneOf(['organiser', 'official', 'referee', 'inspector']),
};
