import type { Schema } from '$lib/api';

/** DayDraft is the plan of a day as a form holds it: empty where nothing is written. */
export interface DayDraft {
  name: string;
  place: string;
  date: string;
  opens: string;
  closes: string;
  age_date: string;
  packing_min: number | null;
  prizes_min: number | null;
  adults: number | null;
  tasks: TaskDraft[];
}

/** TaskDraft is a task of the day as a form holds it. */
export interface TaskDraft {
  kind: Schema['Task']['kind'];
  minutes: number | null;
  at: string;
  until: string;
}

/** taskKinds are the tasks of a plan in the order in which a day usually has them. */
export const taskKinds = [
  'set-up',
  'bench-check',
  'practice',
  'briefing',
  'lunch',
] as const satisfies readonly Schema['Task']['kind'][];

/** newTask is the first that the day does not have yet. */
export const newTask = (tasks: readonly TaskDraft[]): TaskDraft => ({
  kind: taskKinds.find((kind) => !tasks.some((task) => task.kind === kind)) ?? 'practice',
  minutes: null,
  at: '',
  until: '',
});

export const newDay = (): DayDraft => ({
  name: '',
  place: '',
  date: '',
  opens: '',
  closes: '',
  age_date: '',
  packing_min: null,
  prizes_min: null,
  adults: null,
  tasks: [],
});

export const draftOf = (plan: Schema['Plan']): DayDraft => ({
  name: plan.name,
  place: plan.place ?? '',
  date: plan.date,
  opens: plan.opens ?? '',
  closes: plan.closes ?? '',
  age_date: plan.age_date ?? '',
  packing_min: plan.packing_min ?? null,
  prizes_min: plan.prizes_min ?? null,
  adults: plan.adults ?? null,
  tasks: (plan.tasks ?? []).map((task) => ({ ...task, at: task.at ?? '', until: task.until ?? '' })),
});

/** bodyOf leaves out what is empty. */
export function bodyOf(draft: DayDraft, time_zone: string | undefined): Schema['Plan'] {
  const { name, date, packing_min, prizes_min, adults, tasks, ...rest } = draft;
  const filled = Object.fromEntries(Object.entries(rest).filter(([, value]) => value.trim() !== ''));
  const minutes = {
    ...(packing_min !== null && { packing_min }),
    ...(prizes_min !== null && { prizes_min }),
    ...(adults !== null && { adults }),
    ...(tasks.length > 0 && { tasks: tasks.map(taskOf) }),
  };
  return { ...filled, ...minutes, name: name.trim(), date, ...(time_zone && { time_zone }) };
}

/** taskOf leaves out what is empty; only a lunch has an end of its own. */
const taskOf = ({ kind, minutes, at, until }: TaskDraft): Schema['Task'] => ({
  kind,
  minutes: minutes ?? 0,
  ...(at && { at }),
  ...(until && kind === 'lunch' && { until }),
});
