import type { Schema } from '$lib/api';

/** Sign is what a phone tells of by sound and vibration. */
export type Sign = 'call' | 'go' | 'time' | 'end';

/** Standing is how far a bench is; `key` tells one car's turn from the next. */
export interface Standing {
  key: string;
  at: 'free' | 'called' | 'ready' | 'racing' | 'over' | 'done';
}

const free: Standing = { key: '', at: 'free' };

/** standingOf reads off the call board how far a bench is, at an instant in ms. */
export function standingOf(board: Schema['Board'] | undefined, bench: string, now: number): Standing {
  for (const heat of [...(board?.racing ?? []), ...(board?.called ?? [])]) {
    const lane = heat.lanes.find((one) => one.bench === bench);
    if (!lane || lane.state === 'waiting') continue;
    const key = `${heat.id} ${lane.racer.entry} ${lane.armed ?? lane.run ?? ''}`;
    if (lane.state !== 'racing') return { key, at: lane.state };
    const over = heat.started !== undefined && now >= Date.parse(heat.started) + (heat.race_s ?? Infinity) * 1000;
    return { key, at: over ? 'over' : 'racing' };
  }
  return free;
}

/** practiceStanding is the same of a practice run: its start is when the roller turns. */
export function practiceStanding(order: Schema['BenchOrder'], speed: Schema['LiveSpeed'] | undefined): Standing {
  const key = `practice ${order.run ?? ''}`;
  if (!speed) return { key, at: 'ready' };
  return { key, at: speed.elapsed_s >= (order.race_s ?? Infinity) ? 'over' : 'racing' };
}

const runs = (one: Standing) => one.at === 'racing' || one.at === 'over';

/** signOf is what a change has to be told by. What was so when the page was opened is no change. */
export function signOf(before: Standing | undefined, now: Standing): Sign | undefined {
  if (!before || (before.key === now.key && before.at === now.at)) return undefined;
  if (runs(now)) {
    if (!runs(before) || before.key !== now.key) return 'go';
    return now.at === 'over' ? 'time' : undefined;
  }
  if (runs(before)) return 'end';
  return now.at === 'called' && before.key !== now.key ? 'call' : undefined;
}
