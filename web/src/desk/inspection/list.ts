import type { Schema } from '$lib/api';

export type TableEntry = Schema['TableEntry'];
export type Filter = 'wanted' | 'all' | 'late' | 'held' | 'passed';

/** wants says whether the table still wants something of a car that takes part. */
export const wants = (e: TableEntry): boolean =>
  e.racing && (e.held || e.battery.length > 0 || e.inspection.length > 0);

const fits: Record<Filter, (e: TableEntry) => boolean> = {
  wanted: wants,
  all: () => true,
  late: (e) => e.racing && e.inspected === 'failed',
  held: (e) => e.held,
  passed: (e) => e.inspected === 'passed',
};

export const found = (entries: readonly TableEntry[], filter: Filter): TableEntry[] => entries.filter(fits[filter]);

/** deadlineOf is until when a car that did not pass has to be put right. */
export const deadlineOf = (e: TableEntry): string | undefined =>
  e.inspected === 'failed' ? e.tries.at(-1)?.fix_until : undefined;

/** asksFor says whether any class of a meet asks for checks. */
export const asksFor = (meet: Pick<Schema['Meet'], 'divisions'> | undefined): boolean =>
  meet?.divisions.some((d) => d.class.battery !== undefined || (d.class.checklist?.length ?? 0) > 0) ?? false;
