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

/** What one has to be allowed to open a page of the desk: of the club by its address, of a meet by what follows it. */
const needs = {
  '/desk': 'open',
  '/desk/new': 'organise',
  '/desk/benches': 'organise',
  '/desk/keys': 'organise',
  '/desk/account': 'organise',
  '/desk/people': 'enter',
  now: 'rule',
  caller: 'rule',
  times: 'rule',
  entries: 'open',
  'entries/table': 'enter',
  programme: 'rule',
  seeds: 'rule',
  inspection: 'inspect',
  batteries: 'inspect',
  rulings: 'rule',
  runs: 'rule',
  benches: 'rule',
  paper: 'rule',
  'paper/certificates': 'enter', // whose names may stand in results is known to who sees the people
  plan: 'rule',
} satisfies Record<string, keyof typeof may>;

/**
 * mayOpen says whether a page is for whoever is signed in: no page leads to one that is not, and who has its address
 * is told. A part of a page that has no line of its own is for whom the page is.
 */
export function mayOpen(page: string, part?: string): boolean {
  const of: Record<string, keyof typeof may> = needs;
  return may[of[`${page}/${part}`] ?? of[page] ?? 'open']();
}
