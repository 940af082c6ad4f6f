import type { Schema } from '$lib/api';
import type { Kept } from './order';

/** What a lane is like once what an order asks for has come true, by this phone or by another. */
const soBy: Partial<Record<Kept['kind'], (lane: Schema['Lane'], order: Kept) => boolean>> = {
  // The very car stands, races or has raced at the very bench.
  ready: (lane, order) =>
    lane.bench === order.bench &&
    (['ready', 'racing'].includes(lane.state) || (lane.state === 'done' && lane.run !== undefined)),
  // The lane has its run: the counter box was quicker, or somebody else counted.
  hand: (lane) => lane.state === 'done' && lane.run !== undefined,
};

/**
 * cameTrue says whether a refused order is refused because it has come true already:
 * a car that another phone confirmed, a count that a run has overtaken. False where
 * that cannot be learnt now.
 */
export async function cameTrue(order: Kept, ask: typeof fetch): Promise<boolean> {
  const so = soBy[order.kind];
  const meet = /^\/api\/v1\/meets\/[^/]+/.exec(order.path)?.[0];
  if (!so || !meet) return false;
  try {
    const answer = await ask(new Request(new URL(`${meet}/heats`, globalThis.location?.href)));
    if (!answer.ok) return false;
    const { heats } = (await answer.json()) as Schema['HeatList'];
    const lane = heats.find((heat) => heat.id === order.heat)?.lanes.find((one) => one.racer.entry === order.entry);
    return lane !== undefined && so(lane, order);
  } catch {
    return false;
  }
}
