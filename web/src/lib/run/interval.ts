import type { Schema } from '$lib/api';
import { f } from '$lib/i18n';
import { runTexts } from '$lib/i18n/run';

/**
 * between says in words where the true distance of a run lies when ± cannot: its
 * interval is lopsided, or there is none. Undefined where ± says it.
 */
export function between(
  run: Pick<Schema['Figures'], 'distance_m' | 'u_distance_m' | 'distance_low_m' | 'distance_high_m'> & {
    flags?: Schema['Flag'][];
  },
): string | undefined {
  const { distance_low_m: low, distance_high_m: high } = run;
  if (low !== undefined && high !== undefined) return runTexts.between(f.number(low, 1), f.number(high, 1));
  if (run.flags?.some((flag) => flag.code === 'no-interval')) return runTexts.untold;
  return undefined;
}
