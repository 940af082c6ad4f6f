import type { Schema } from '$lib/api';
import { f } from '$lib/i18n';
import { standingTexts } from '$lib/i18n/standing';

/** Changed is a figure that a ruling may have changed: a run, a lane, or a place. */
type Changed = Pick<Schema['StandingRun'], 'penalty_m' | 'corrections'>;

/**
 * changesOf a figure, as sentences: what was taken off, and each correction with its number and time. One that was
 * made after the table was published last, at `published`, is not official yet.
 */
export function changesOf({ penalty_m, corrections }: Changed, published: string | undefined): string[] {
  const made = (corrections ?? []).map(({ number, at }) => {
    const says = standingTexts.correction(number, f.time(at));
    return published && Date.parse(at) > Date.parse(published) ? standingTexts.pending(says) : says;
  });
  return [...(penalty_m ? [standingTexts.penalty(f.amount(penalty_m))] : []), ...made];
}
