import type { Schema } from '$lib/api';

export type Method = Schema['SeedMethod'];
type Line = Schema['SeedLine'];

/** moved takes the one at `from` to `to`; undefined where that changes nothing. */
export function moved<T>(list: readonly T[], from: number, to: number): T[] | undefined {
  const at = Math.max(0, Math.min(list.length - 1, to));
  if (!(from in list) || at === from || Number.isNaN(at)) return undefined;
  const out = list.toSpliced(from, 1);
  return out.toSpliced(at, 0, list[from]!);
}

/** arranged keeps an order for those who are still there and puts new ones behind. */
export const arranged = (order: readonly string[], there: readonly string[]): string[] => [
  ...order.filter((id) => there.includes(id)),
  ...there.filter((id) => !order.includes(id)),
];

/** sorted are the lines as a method lays them; by lot and by hand they stay as they are. The unrated go behind. */
export function sorted(method: Method, lines: readonly Line[]): Line[] {
  if (method === 'rank') return lines.toSorted((a, b) => (a.rank ?? Infinity) - (b.rank ?? Infinity));
  if (method === 'rating') return lines.toSorted((a, b) => (b.rating ?? -Infinity) - (a.rating ?? -Infinity) || 0);
  return [...lines];
}

/** byLot says whether the lot decides where a line comes while an order is only asked for. */
export const byLot = (method: Method, line: Line): boolean =>
  method === 'lot' || (method === 'rating' && line.rating === undefined);

/** keyMove is where a key takes the one at `at` in a list of `length`; undefined for other keys. */
export function keyMove(key: string, at: number, length: number): number | undefined {
  switch (key) {
    case 'ArrowUp':
      return Math.max(0, at - 1);
    case 'ArrowDown':
      return Math.min(length - 1, at + 1);
    case 'Home':
      return 0;
    case 'End':
      return length - 1;
  }
  return undefined;
}
