import { outside } from '$lib/ahead/root';
import type { Schema } from '$lib/api';
import type { Kept } from './order';

/**
 * cameTrue says whether a refused count is refused because a run has overtaken it: the
 * counter box was quicker, or somebody else counted. False where that cannot be learnt
 * now. A late "Ready" needs no looking: the server takes it as done where it is so.
 */
export async function cameTrue(order: Kept, ask: typeof fetch): Promise<boolean> {
  const meet = /^\/api\/v1\/meets\/[^/]+/.exec(order.path)?.[0];
  if (order.kind !== 'hand' || !meet) return false;
  try {
    const answer = await ask(new Request(new URL(outside(`${meet}/heats`), globalThis.location?.href)));
    if (!answer.ok) return false;
    const { heats } = (await answer.json()) as Schema['HeatList'];
    const lane = heats.find((heat) => heat.id === order.heat)?.lanes.find((one) => one.racer.entry === order.entry);
    return lane?.state === 'done' && lane.run !== undefined;
  } catch {
    return false;
  }
}
