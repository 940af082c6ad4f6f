import type { Schema } from '$lib/api';

type Plan = Pick<Schema['DayPlan'], 'heats' | 'to_come'>;

/**
 * Look is how far a heat is: on its benches, called to them, drawn with a time that was told, drawn without one, or of
 * a round that is not drawn yet.
 */
export type Look = 'racing' | 'called' | 'told' | 'likely' | 'ahead';

/** Item is a heat on the board. */
export interface Item {
  key: string;
  look: Look;
  /** From its call to its result, in ms. */
  from: number;
  to: number;
  /** The rows of its benches, ascending. */
  rows: number[];
  /** A heat that is drawn; one that is not has what is known of it in `of` alone. */
  heat?: Schema['PlanHeat'];
  of: Pick<Schema['PlanHeat'], 'division' | 'stage' | 'round' | 'number' | 'leg' | 'group'>;
}

/** items are the heats of a plan that stand on benches, in the order of their calls. `benches` are the rows. */
export function items(plan: Plan, benches: readonly { id: string }[]): Item[] {
  const row = new Map(benches.map((bench, at) => [bench.id, at]));
  const rows = (ids: readonly string[]) => ids.flatMap((id) => row.get(id) ?? []).sort((a, b) => a - b);
  const drawn = plan.heats.flatMap((heat): Item[] =>
    heat.likely && heat.until
      ? [
          {
            key: heat.heat,
            look: heat.phase !== 'drawn' ? heat.phase : heat.not_before ? 'told' : 'likely',
            from: Date.parse(heat.likely),
            to: Date.parse(heat.until),
            rows: rows(heat.likely_on ?? heat.benches),
            heat,
            of: heat,
          },
        ]
      : [],
  );
  const ahead = (plan.to_come ?? []).map((of): Item => ({
    key: `ahead ${of.division} ${of.stage} ${of.round} ${of.number} ${of.leg ?? 0}`,
    look: 'ahead',
    from: Date.parse(of.likely),
    to: Date.parse(of.until),
    rows: rows(of.benches),
    of,
  }));
  return [...drawn, ...ahead].sort((a, b) => a.from - b.from || (a.rows[0] ?? 0) - (b.rows[0] ?? 0));
}

/** spans are rows that lie beside one another, as first row and how many. */
export function spans(rows: readonly number[]): [first: number, count: number][] {
  const out: [number, number][] = [];
  for (const row of rows) {
    const last = out.at(-1);
    if (last && last[0] + last[1] === row) last[1]++;
    else out.push([row, 1]);
  }
  return out;
}

/** waits says whether a heat can still be moved. */
export const waits = (item: Item | undefined): boolean => item?.heat?.phase === 'drawn';

/** Step is where an arrow key goes. */
export type Step = 'before' | 'after' | 'up' | 'down' | 'first' | 'last';

/** walk is the heat that a step leads to; the same where there is none. */
export function walk(all: readonly Item[], at: string | undefined, step: Step): Item | undefined {
  const here = all.findIndex((item) => item.key === at);
  if (here < 0 || step === 'first') return all[0];
  if (step === 'last') return all.at(-1);
  if (step === 'before') return all[Math.max(0, here - 1)];
  if (step === 'after') return all[Math.min(all.length - 1, here + 1)];
  const from = all[here]!;
  const edge = step === 'up' ? from.rows[0] : from.rows.at(-1);
  if (edge === undefined) return from;
  let best = from;
  let least = Infinity;
  for (const item of all) {
    const rows = item.rows.filter((row) => (step === 'up' ? row < edge : row > edge));
    const next = step === 'up' ? rows.at(-1) : rows[0];
    if (next === undefined || item === from) continue;
    // The next bench that has something, and on it what is nearest in time.
    const far = Math.abs(next - edge) * 1e9 + Math.abs(item.from - from.from);
    if (far < least) [best, least] = [item, far];
  }
  return best;
}

/** reordered puts a heat before another one of an order, or behind all where none is named. */
export function reordered(order: readonly string[], heat: string, before: string | undefined): string[] {
  const rest = order.filter((id) => id !== heat);
  const at = before === undefined ? rest.length : rest.indexOf(before);
  return [...rest.slice(0, at), heat, ...rest.slice(at)];
}

/** beforeAt is the heat before which one comes that is dropped at an instant; none behind the last one. */
export function beforeAt(all: readonly Item[], order: readonly string[], heat: string, at: number): string | undefined {
  const from = new Map(all.map((item) => [item.key, item.from]));
  return order.find((id) => id !== heat && (from.get(id) ?? -Infinity) >= at);
}

/**
 * preview shows the waiting heats in another order until the plan is there that has it: each at the time, and where it
 * has as many cars on the benches, of the heat that stood in its place.
 */
export function preview(all: readonly Item[], order: readonly string[]): Item[] {
  const waiting = all.filter(waits);
  const of = new Map(waiting.map((item) => [item.key, item]));
  const turned = order.flatMap((id) => of.get(id) ?? []);
  const moved = new Map(
    turned.flatMap((item, place): [string, Item][] => {
      const there = waiting[place];
      if (!there) return [];
      if (there === item) return [];
      const rows = there.rows.length === item.rows.length ? there.rows : item.rows;
      return [[item.key, { ...item, from: there.from, to: there.from + item.to - item.from, rows }]];
    }),
  );
  return all.map((item) => moved.get(item.key) ?? item).sort((a, b) => a.from - b.from);
}
