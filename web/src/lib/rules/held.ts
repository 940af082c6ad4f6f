import type { Schema } from '$lib/api';

/**
 * held says whether the promise of races may stand on the wall: the programme of every division makes sure of it for
 * those who have entered. Where nobody has entered yet it is only what is meant.
 */
export function held(meet: Pick<Schema['Meet'], 'divisions' | 'rules'>): boolean {
  const promised = meet.rules.runs_at_least ?? 0;
  const racing = meet.divisions.filter((d) => !d.merged_into);
  return promised > 0 && racing.length > 0 && racing.every((d) => (d.sure_runs?.runs ?? 0) >= promised);
}
