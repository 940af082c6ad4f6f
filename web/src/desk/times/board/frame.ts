import type { Schema } from '$lib/api';

const minuteMs = 60_000;

/** Frame is the stretch of time that the board shows, in ms. */
export interface Frame {
  from: number;
  to: number;
}

/** View is how much of the day the board shows. */
export type View = 'hour' | 'day';

/** frameOf a view begins a little before now, and ends in an hour or when the day is over and the keys are back. */
export function frameOf(view: View, now: number, ends: readonly number[]): Frame {
  const step = 5 * minuteMs;
  const from = Math.floor((now - step) / step) * step;
  const least = from + 65 * minuteMs;
  if (view === 'hour') return { from, to: least };
  return { from, to: Math.ceil((Math.max(least, ...ends) + step) / step) * step };
}

/** ticksOf a frame are whole minutes of the clock, about ten of them. */
export function ticksOf({ from, to }: Frame): number[] {
  const minutes = [10, 15, 30, 60, 120, 240].find((m) => (to - from) / (m * minuteMs) <= 12) ?? 480;
  const step = minutes * minuteMs;
  const out: number[] = [];
  for (let at = Math.ceil(from / step) * step; at <= to; at += step) out.push(at);
  return out;
}

/** share is how far an instant lies into a frame, from 0 to 1 within it. */
export const share = ({ from, to }: Frame, at: number): number => (at - from) / (to - from);

/** atShare is the instant that lies so far into it. */
export const atShare = ({ from, to }: Frame, of: number): number => from + of * (to - from);

/** Task is something beside the races that the plan has. */
export interface Task {
  code: Schema['PlanTask']['kind'];
  from: number;
  to: number;
}

/** tasksOf a day are those in which nobody races; a lunch that each child has for itself goes on beside the races. */
export const tasksOf = (plan: Pick<Schema['DayPlan'], 'tasks'>): Task[] =>
  (plan.tasks ?? [])
    .filter((task) => task.each_min === undefined)
    .map((task) => ({ code: task.kind, from: Date.parse(task.from), to: Date.parse(task.until) }));
