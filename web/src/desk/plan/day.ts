import type { Schema } from '$lib/api';

/** DayDraft is the plan of a day as a form holds it: empty where nothing is written. */
export interface DayDraft {
  name: string;
  place: string;
  date: string;
  opens: string;
  closes: string;
  age_date: string;
}

export const newDay = (): DayDraft => ({ name: '', place: '', date: '', opens: '', closes: '', age_date: '' });

export const draftOf = (plan: Schema['Plan']): DayDraft => ({
  name: plan.name,
  place: plan.place ?? '',
  date: plan.date,
  opens: plan.opens ?? '',
  closes: plan.closes ?? '',
  age_date: plan.age_date ?? '',
});

/** bodyOf leaves out what is empty. */
export function bodyOf(draft: DayDraft, time_zone: string | undefined): Schema['Plan'] {
  const { name, date, ...rest } = draft;
  const filled = Object.fromEntries(Object.entries(rest).filter(([, value]) => value.trim() !== ''));
  return { ...filled, name: name.trim(), date, ...(time_zone && { time_zone }) };
}
