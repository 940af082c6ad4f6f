import type { Schema } from '$lib/api';
import { minutesBetween } from '$lib/minutes';

/** spareMinutes are from the likely end of the last race to when it has to be over; below zero it comes too late. */
export function spareMinutes(plan: Pick<Schema['DayPlan'], 'finish' | 'last_race_by'>): number | undefined {
  if (!plan.finish || !plan.last_race_by) return undefined;
  return minutesBetween(plan.finish, plan.last_race_by);
}

/** waiting are the heats that wait for their call, in the order in which they are likely called. */
export const waiting = (plan: Pick<Schema['DayPlan'], 'heats'>): Schema['PlanHeat'][] =>
  plan.heats.filter((heat) => heat.phase === 'drawn');
