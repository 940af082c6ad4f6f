import type { Schema } from '$lib/api';

export type Entry = Schema['Entry'];
export type Filter = 'all' | 'missing' | 'there' | 'shared' | 'out' | 'late' | 'age';

/** sharers are the start numbers of the other entries with the same car. */
export function sharers(entries: readonly Entry[]): Map<string, number[]> {
  const byCar = new Map<string, Entry[]>();
  for (const e of entries) byCar.set(e.car, [...(byCar.get(e.car) ?? []), e]);
  return new Map(
    entries.map((e) => [
      e.id,
      byCar
        .get(e.car)!
        .filter((o) => o.id !== e.id)
        .map((o) => o.start_number)
        .sort((a, b) => a - b),
    ]),
  );
}

/** homeOf is the division that an entry was entered for and is ranked in; it may race in another. */
export const homeOf = (e: Entry): string => e.band ?? e.division;

const out = (e: Entry) => e.withdrawn || e.disqualified;
const fits: Record<Filter, (e: Entry, shared: boolean) => boolean> = {
  all: () => true,
  missing: (e) => !e.checked_in && !out(e),
  there: (e) => e.checked_in,
  shared: (_, shared) => shared,
  out: (e) => out(e),
  late: (e) => e.late || e.races_up,
  age: (e) => e.age_mark !== undefined,
};

/**
 * found are the entries that a search and filters leave, by start number. A number is searched as a whole, words in
 * part.
 */
export function found(entries: readonly Entry[], search: string, division: string, filter: Filter): Entry[] {
  const wanted = search.trim().toLowerCase();
  const shared = sharers(entries);
  return entries
    .filter((e) => division === '' || homeOf(e) === division)
    .filter((e) => fits[filter](e, shared.get(e.id)!.length > 0))
    .filter((e) => {
      if (/^\d+$/.test(wanted)) return String(e.start_number) === wanted;
      return `${e.display_name ?? ''} ${e.name ?? ''} ${e.club ?? ''}`.toLowerCase().includes(wanted);
    })
    .toSorted((a, b) => a.start_number - b.start_number);
}

/** clubsOf are the clubs that entries come for, each once. */
export const clubsOf = (entries: readonly Entry[]): string[] =>
  [...new Set(entries.flatMap((e) => (e.club ? [e.club] : [])))].toSorted((a, b) => a.localeCompare(b));

/** nextNumber is the smallest start number above all that are taken. */
export const nextNumber = (entries: readonly Entry[]): number => Math.max(0, ...entries.map((e) => e.start_number)) + 1;

/** countsOf are the entries of a division that are not out, and how many of them are there. */
export function countsOf(entries: readonly Entry[], division: string): { entered: number; there: number } {
  const racing = entries.filter((e) => homeOf(e) === division && !out(e));
  return { entered: racing.length, there: racing.filter((e) => e.checked_in).length };
}
