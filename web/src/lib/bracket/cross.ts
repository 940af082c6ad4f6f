import type { Schema } from '$lib/api';

/** Result of one car against another: won, equal, lost, or still to race. */
export type Result = 'won' | 'drawn' | 'lost' | 'toCome';

/** CrossRow is a car with its results against the others, in their order; none against itself. */
export interface CrossRow {
  racer: Schema['Racer'];
  against: Result[][];
  points: number;
}

/** Cross is a table of who beat whom; `group` is missing where all met all. */
export interface Cross {
  group: string | undefined;
  rows: CrossRow[];
}

/** hasCross says whether a stage is one in which each meets each. */
export const hasCross = (kind: string | undefined): boolean => kind === 'groups' || kind === 'round-robin';

/** What a heat is worth where the stage does not say otherwise. */
const usual: Schema['HeatPoints'] = { win: 2, draw: 1, loss: 0 };

/**
 * crossesOf a stage's rounds, one a group in the order of their letters. Rows go
 * by points, then by start number; `place` puts first who stands first by
 * the rules of the day.
 */
export function crossesOf(
  rounds: readonly Schema['BracketRound'][],
  worth = usual,
  place: (entry: string) => number | undefined = () => undefined,
): Cross[] {
  const groups = new Map<string, Schema['BracketHeat'][]>();
  for (const heat of rounds.flatMap((r) => r.heats))
    groups.set(heat.group ?? '', [...(groups.get(heat.group ?? '') ?? []), heat]);
  return [...groups]
    .sort(([a], [b]) => a.localeCompare(b))
    .map(([group, heats]) => ({ group: group || undefined, rows: rowsOf(heats, worth, place) }));
}

function rowsOf(
  heats: readonly Schema['BracketHeat'][],
  worth: Schema['HeatPoints'],
  place: (entry: string) => number | undefined,
): CrossRow[] {
  const racers = new Map(
    heats.flatMap((h) => h.slots.flatMap((s) => (s.racer ? [[s.racer.entry, s.racer] as const] : []))),
  );
  const met = new Map<string, Result[]>();
  const add = (a: string, b: string, result: Result) => met.set(`${a} ${b}`, [...(met.get(`${a} ${b}`) ?? []), result]);
  for (const heat of heats) {
    const [a, b] = heat.slots.map((s) => s.racer?.entry);
    if (a === undefined || b === undefined) continue;
    const [first, second] = resultOf(heat, a, b);
    add(a, b, first);
    add(b, a, second);
  }
  const points = (entry: string) =>
    [...racers.keys()]
      .flatMap((other) => met.get(`${entry} ${other}`) ?? [])
      .reduce(
        (sum, r) => sum + (r === 'won' ? worth.win : r === 'drawn' ? worth.draw : r === 'lost' ? worth.loss : 0),
        0,
      );
  const order = [...racers.values()].sort(
    (a, b) =>
      (place(a.entry) ?? 999) - (place(b.entry) ?? 999) ||
      points(b.entry) - points(a.entry) ||
      a.start_number - b.start_number,
  );
  return order.map((racer) => ({
    racer,
    points: points(racer.entry),
    against: order.map((other) => met.get(`${racer.entry} ${other.entry}`) ?? []),
  }));
}

function resultOf(heat: Schema['BracketHeat'], a: string, b: string): [Result, Result] {
  const posted = heat.heat?.phase === 'provisional' || heat.heat?.phase === 'official';
  const placeOf = (entry: string) => heat.heat?.lanes.find((l) => l.racer.entry === entry)?.place;
  const [x, y] = [placeOf(a), placeOf(b)];
  if (!posted || (x === undefined && y === undefined)) return ['toCome', 'toCome'];
  if (x === y) return ['drawn', 'drawn'];
  return (x ?? 99) < (y ?? 99) ? ['won', 'lost'] : ['lost', 'won'];
}
