import type { Schema } from '$lib/api';
import { timesTexts } from '$lib/i18n/times';

/** whyText says what a heat waits for: "waits for car 17, which is in Juniors: Round 1, heat 3". */
export function whyText(
  why: Schema['MoveWhy'],
  names: { division: (id: string) => string; heat: (id: string) => string | undefined },
): string {
  const heat = why.heat === undefined ? undefined : names.heat(why.heat);
  return timesTexts.reasons[why.code](why, names.division(why.division ?? ''), heat);
}
