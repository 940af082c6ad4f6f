import type { Schema } from '$lib/api';

/** Ghost says how far a run of before had come after some seconds, in m. */
export type Ghost = (elapsedS: number) => number;

/** evenGhost is a run of which nobody knows more than how far it went: at an even speed. */
export const evenGhost =
  (distanceM: number, raceS: number): Ghost =>
  (elapsedS) =>
    raceS > 0 ? distanceM * Math.min(1, Math.max(0, elapsedS) / raceS) : 0;

/**
 * ghostOf follows the speed of a run over time, by the rule of trapezoids; it ends where the run ended. Undefined
 * where the stamps are not there.
 */
export function ghostOf(samples: readonly Schema['SpeedSample'][], distanceM: number): Ghost | undefined {
  const at = samples.filter((one) => one.at_s >= 0);
  const first = at[0];
  if (!first || at.length < 2) return undefined;
  // Before the first sample it came up to speed from standing still.
  const metres = [(first.at_s * first.speed_mps) / 2];
  for (let i = 1; i < at.length; i++) {
    const [a, b] = [at[i - 1]!, at[i]!];
    metres.push(metres[i - 1]! + ((b.at_s - a.at_s) * (a.speed_mps + b.speed_mps)) / 2);
  }
  const all = metres.at(-1)!;
  if (!(all > 0)) return undefined;
  const share = distanceM / all;
  return (elapsedS) => {
    if (elapsedS <= 0) return 0;
    if (elapsedS <= first.at_s) return share * metres[0]! * (elapsedS / first.at_s) ** 2;
    const next = at.findIndex((one) => one.at_s >= elapsedS);
    if (next < 0) return distanceM;
    if (next === 0) return share * metres[0]!;
    const [a, b] = [at[next - 1]!, at[next]!];
    const part = (elapsedS - a.at_s) / (b.at_s - a.at_s);
    return share * (metres[next - 1]! + (metres[next]! - metres[next - 1]!) * part);
  };
}
