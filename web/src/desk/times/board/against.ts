import type { Schema } from '$lib/api';
import { clashes } from '../looking';
import type { Item } from './items';

/** Against is what speaks against a heat at a time. */
export type Against =
  | { code: 'car'; number: number; other: string }
  | { code: 'told'; until: string }
  | { code: 'held'; until: string }
  | { code: 'leg'; other: string };

/** against says what speaks against calling a heat at an instant, as far as the plan at hand tells. */
export function against(all: readonly Item[], heat: Schema['PlanHeat'], length: number, at: number): Against[] {
  const out: Against[] = [];
  if (heat.not_before && Date.parse(heat.not_before) > at) out.push({ code: 'told', until: heat.not_before });
  if (heat.held_until && Date.parse(heat.held_until) > at) out.push({ code: 'held', until: heat.held_until });
  const cars = new Map(heat.cars.map((car) => [car.entry, car.start_number]));
  for (const item of all) {
    if (!item.heat || item.key === heat.heat) continue;
    const beside = item.from < at + length && at < item.to;
    const both = beside ? item.heat.cars.find((car) => cars.has(car.entry)) : undefined;
    if (both) out.push({ code: 'car', number: both.start_number, other: item.key });
    if (isLegBefore(item.heat, heat) && item.to > at) out.push({ code: 'leg', other: item.key });
  }
  return out;
}

const isLegBefore = (a: Schema['PlanHeat'], b: Schema['PlanHeat']) =>
  (a.leg ?? 0) < (b.leg ?? 0) &&
  a.division === b.division &&
  a.stage === b.stage &&
  a.round === b.round &&
  a.number === b.number;

/** Conflict is something in the order that stands that cannot go as it stands. */
export type Conflict =
  | { code: 'on'; heat: Schema['PlanHeat']; bench: string }
  | { code: 'wide'; heat: Schema['PlanHeat']; benches: number }
  | { code: 'overtaken'; heat: Schema['PlanHeat']; place: number; why: Schema['MoveWhy'] };

/**
 * conflicts of a plan: cars on benches that are out, heats wider than what is left, and heats that others overtake
 * because they have to wait. `order` are the heats that wait, as the board calls them.
 */
export function conflicts(
  plan: Pick<Schema['DayPlan'], 'heats'>,
  benches: readonly { id: string; out_of_service: boolean }[],
  order: readonly string[],
): Conflict[] {
  const out: Conflict[] = clashes(
    plan,
    benches,
    benches.filter((bench) => bench.out_of_service).map((bench) => bench.id),
  );
  const place = new Map(order.map((id, at) => [id, at]));
  for (const heat of plan.heats) {
    const stands = place.get(heat.heat);
    if (stands === undefined || !heat.waits_for || heat.waits_for.code === 'benches') continue;
    if (heat.ahead > stands) out.push({ code: 'overtaken', heat, place: stands + 1, why: heat.waits_for });
  }
  return out;
}
