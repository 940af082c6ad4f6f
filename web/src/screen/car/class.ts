import type { Schema } from '$lib/api';

/** ClassRow is a car of which nobody says whose it is: its mean speeds in km/h, race by race. */
export interface ClassRow {
  speeds: (number | undefined)[];
  middle: number;
}

/**
 * classRows are the cars of a division without names, the slowest first: mean
 * speeds of runs that count and that a bench measured, in the order in which each
 * car raced. A name cannot be read off: neither number nor order of entry is in it.
 */
export function classRows(
  runs: readonly Schema['Run'][],
  heats: readonly Schema['Heat'][],
  division: string,
): ClassRow[] {
  const own = new Set(heats.filter((h) => h.division === division).map((h) => h.id));
  const speeds = new Map<string, number[]>();
  for (const run of [...runs].sort((a, b) => a.at.localeCompare(b.at))) {
    if (!run.counts || run.source !== 'bench' || !run.racer || !run.heat || !own.has(run.heat)) continue;
    speeds.set(run.racer.entry, [...(speeds.get(run.racer.entry) ?? []), run.figures.mean_speed_mps * 3.6]);
  }
  return [...speeds.values()]
    .map((of) => ({ speeds: of, middle: quantile(of, 0.5) }))
    .sort((a, b) => a.middle - b.middle);
}

/**
 * ByVolts are the runs of which the battery was measured before: volts and mean speeds in km/h, the fewest volts
 * first.
 */
export function byVolts(
  runs: readonly Schema['Run'][],
  heats: readonly Schema['Heat'][],
  division: string,
): { volts: number; speed: number }[] {
  const own = new Set(heats.filter((h) => h.division === division).map((h) => h.id));
  return runs
    .flatMap((run) =>
      run.counts && run.source === 'bench' && run.battery && run.heat && own.has(run.heat)
        ? [{ volts: run.battery.open_v, speed: run.figures.mean_speed_mps * 3.6 }]
        : [],
    )
    .sort((a, b) => a.volts - b.volts);
}

/** quantile of some numbers, between two of them where it falls there. */
export function quantile(values: readonly number[], q: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (sorted.length - 1) * q;
  const low = sorted[Math.floor(at)] ?? NaN;
  const high = sorted[Math.ceil(at)] ?? NaN;
  return low + (high - low) * (at - Math.floor(at));
}
