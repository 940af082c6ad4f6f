import type { Schema } from '$lib/api';

/** spareMinutes are from the likely end of the last race to when it has to be over; below zero it comes too late. */
export function spareMinutes(plan: Pick<Schema['DayPlan'], 'finish' | 'last_race_by'>): number | undefined {
  if (!plan.finish || !plan.last_race_by) return undefined;
  return minutesBetween(plan.finish, plan.last_race_by);
}

/** behindMinutes are from the end that was told to the likely one; below zero the day is ahead. */
export function behindMinutes(plan: Pick<Schema['DayPlan'], 'finish' | 'told'>): number | undefined {
  if (!plan.finish || !plan.told?.finish) return undefined;
  return minutesBetween(plan.told.finish, plan.finish);
}

/** minutesBetween two instants, to the nearest. */
export const minutesBetween = (from: string, to: string): number =>
  Math.round((Date.parse(to) - Date.parse(from)) / 60_000);

/** waiting are the heats that wait for their call, in the order in which they are likely called. */
export const waiting = (plan: Pick<Schema['DayPlan'], 'heats'>): Schema['PlanHeat'][] =>
  plan.heats.filter((heat) => heat.phase === 'drawn');
