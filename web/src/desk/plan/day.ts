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
}

export const newDay = (): DayDraft => ({
  name: '',
  place: '',
  date: '',
  opens: '',
  closes: '',
  age_date: '',
  packing_min: null,
  prizes_min: null,
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
});

/** bodyOf leaves out what is empty. */
export function bodyOf(draft: DayDraft, time_zone: string | undefined): Schema['Plan'] {
  const { name, date, packing_min, prizes_min, ...rest } = draft;
  const filled = Object.fromEntries(Object.entries(rest).filter(([, value]) => value.trim() !== ''));
  const minutes = { ...(packing_min !== null && { packing_min }), ...(prizes_min !== null && { prizes_min }) };
  return { ...filled, ...minutes, name: name.trim(), date, ...(time_zone && { time_zone }) };
}
