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
): Schema['Says'][] {
  if (lane.let_race || (lane.state !== 'waiting' && lane.state !== 'called')) return [];
  const entry = table?.entries.find((e) => e.racer.entry === lane.racer.entry);
  if (!entry) return [];
  return [
    ...(rules?.battery_gate ? entry.battery.slice(0, 1) : []),
    ...(rules?.inspection_gate ? entry.inspection.slice(0, 1) : []),
  ];
}
