import type { Schema } from './api';

/** minutesBetween two instants, to the nearest; below zero where the second comes first. */
export const minutesBetween = (from: string, to: string): number =>
  Math.round((Date.parse(to) - Date.parse(from)) / 60_000);

/** behindMinutes are from the end of the day that was told to the likely one; below zero the day is ahead. */
export function behindMinutes(plan: Pick<Schema['DayPlan'], 'finish' | 'told'>): number | undefined {
  if (!plan.finish || !plan.told?.finish) return undefined;
  return minutesBetween(plan.told.finish, plan.finish);
}
