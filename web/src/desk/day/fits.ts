import type { Schema } from '$lib/api';

/**
 * fits says whether a car at a bench is meant by what was typed: its number or the
 * bench's in full, or a part of its nickname or of what else it is called by.
 */
export function fits(
  typed: string,
  racer: Schema['Racer'] | undefined,
  bench: number | undefined,
  ...others: string[]
): boolean {
  const wanted = typed.trim().toLocaleLowerCase();
  if (wanted === '') return true;
  if (/^\d+$/.test(wanted)) return String(racer?.start_number) === wanted || String(bench) === wanted;
  return [racer?.display_name ?? '', ...others].some((name) => name.toLocaleLowerCase().includes(wanted));
}
