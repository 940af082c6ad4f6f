import type { Schema } from '$lib/api';

type Rules = Pick<Schema['Rules'], 'call_s' | 'battery_gate' | 'close' | 'tie'>;
type Division = Pick<Schema['Division'], 'stages' | 'class'>;

/**
 * restsLonger says why a car of a division would be due again before its battery has rested, where a rest is longer
 * than a call lasts and the rules hold the car for it; undefined where that cannot be. The rest is the longest that
 * the class asks for, in s.
 */
export function restsLonger(
  division: Division,
  rules: Rules,
): { why: 'legs' | 'deciders'; rest_s: number } | undefined {
  const rest_s = Math.max(0, ...(division.class.battery?.windows ?? []).map((w) => w.rest_s ?? 0));
  if (rules.battery_gate !== 'hold' || rest_s <= rules.call_s) return undefined;
  if (division.stages.some((s) => s.legs === 2)) return { why: 'legs', rest_s };
  if (rules.close === 'decider' || rules.tie === 'decider') return { why: 'deciders', rest_s };
  return undefined;
}
