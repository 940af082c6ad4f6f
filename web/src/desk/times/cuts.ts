import type { Schema } from '$lib/api';
import type { times } from '$lib/i18n/en/desk/times';

type Cut = Schema['DayCut'];

/** Leaving everything is a choice too: beside it there are three, so that there are four at most. */
const beside = 3;

/**
 * shownFirst are the cuts to choose from at a glance: those on the list that was printed, in its order; without one
 * those that leave every child two races come first, then what saves most; of one division not more than two, so that
 * it does not bear everything.
 */
export function shownFirst(cuts: readonly Cut[]): Cut[] {
  const sound = (cut: Cut) => cut.runs_after === undefined || cut.runs_after >= 2;
  const printed = cuts.filter((cut) => cut.place !== undefined).slice(0, beside);
  if (printed.length) return printed;
  const sorted = [...cuts.filter(sound), ...cuts.filter((cut) => !sound(cut))];
  const out: Cut[] = [];
  for (const cut of sorted)
    if (out.length < beside && out.filter((one) => one.division === cut.division).length < 2) out.push(cut);
  return out;
}

/** cutKey tells cuts apart. */
export const cutKey = (cut: Schema['CutRef']) => `${cut.division} ${cut.code} ${cut.stage}`;

/** cutEntries says what a cut takes from whom; nothing where that is not known. */
export function cutEntries(cut: Cut, texts: Pick<(typeof times)['cuts'], 'takes' | 'takesNone'>): string {
  if (cut.entries === undefined || cut.runs_after === undefined) return '';
  return cut.runs_after === cut.runs_before
    ? texts.takesNone(cut.entries, cut.runs_after)
    : texts.takes(cut.entries, cut.runs_after);
}
