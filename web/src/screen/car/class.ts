import type { Schema } from '$lib/api';
import { raceOf } from '$lib/run/reckon';

/** ClassRow is a car of which nobody says whose it is: its mean speeds in km/h, race by race. */
export interface ClassRow {
  speeds: (number | undefined)[];
  middle: number;
}

/**
 * speedsOf gives the mean speed in km/h of a run that counts and that a bench measured in a division: corrected for
 * its bench where the result is, as on the sheets of the cars. Undefined for other runs.
 */
function speedsOf(heats: readonly Schema['Heat'][], division: string): (run: Schema['Run']) => number | undefined {
  const own = new Map(heats.filter((h) => h.division === division).map((h) => [h.id, h]));
  return (run) => {
    const heat = own.get(run.heat ?? '');
    if (!run.counts || run.source !== 'bench' || !heat) return undefined;
    return (run.figures.mean_speed_mps / raceOf(run, heat).corrected) * 3.6;
  };
}

/** isCorrected says whether the result of some run of a division was corrected for its bench. */
export const isCorrected = (heats: readonly Schema['Heat'][], division: string): boolean =>
  heats.some((h) => h.division === division && h.lanes.some((l) => l.run && l.as_read_m !== undefined));

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
  const speedIn = speedsOf(heats, division);
  const speeds = new Map<string, number[]>();
  for (const run of [...runs].sort((a, b) => a.at.localeCompare(b.at))) {
    const speed = speedIn(run);
    if (speed === undefined || !run.racer) continue;
    speeds.set(run.racer.entry, [...(speeds.get(run.racer.entry) ?? []), speed]);
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
  const speedIn = speedsOf(heats, division);
  return runs
    .flatMap((run) => {
      const speed = speedIn(run);
      return speed === undefined || !run.battery ? [] : [{ volts: run.battery.open_v, speed }];
    })
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
