import type { Schema } from '$lib/api';

type Rules = Pick<Schema['Rules'], 'battery_gate' | 'inspection_gate'>;

/** looksAt says whether the rules of a meet look at the inspector's table when a car is called. */
export const looksAt = (rules: Rules | undefined): boolean => Boolean(rules?.battery_gate ?? rules?.inspection_gate);

/**
 * missingOf is what the table still wants of a car that is to race, one sentence a side, as far as the rules look at
 * it.
 */
export function missingOf(
  lane: Schema['Lane'],
  rules: Rules | undefined,
  table: Schema['InspectorTable'] | undefined,
  now: number,
): Schema['Says'][] {
  // Its rest counts down on the page, by the instant at which it is over.
  if (restOf(lane, table, now) > 0) return [];
  if (lane.let_race || (lane.state !== 'waiting' && lane.state !== 'called')) return [];
  const entry = table?.entries.find((e) => e.racer.entry === lane.racer.entry);
  if (!entry) return [];
  // What was said of a rest that is over since is no longer so.
  const rested = entry.rests_until !== undefined;
  return [
    ...(rules?.battery_gate && !rested ? entry.battery.slice(0, 1) : []),
    ...(rules?.inspection_gate ? entry.inspection.slice(0, 1) : []),
  ];
}

/**
 * restOf is until when a car that is to race only has to let its battery rest, in ms since 1970; 0 where it does not.
 * The list of the table may be older than its end.
 */
export function restOf(lane: Schema['Lane'], table: Schema['InspectorTable'] | undefined, now: number): number {
  if (lane.let_race || (lane.state !== 'waiting' && lane.state !== 'called')) return 0;
  const until = table?.entries.find((e) => e.racer.entry === lane.racer.entry)?.rests_until;
  const at = until ? Date.parse(until) : 0;
  return at > now ? at : 0;
}
