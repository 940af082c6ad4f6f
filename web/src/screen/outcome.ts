import type { Schema } from '$lib/api';
import { f, said, t, type Measured } from '$lib/i18n';
import { codes } from '$lib/i18n/codes';
import { dayCodes } from '$lib/i18n/day-codes';
import { screenTexts } from '$lib/i18n/screen';

/** Outcome is what a line of the standings shows as its result: a distance, or words. */
export type Outcome = { distance: Measured } | { words: string };

/**
 * outcome of a line: who left the division has a status, timed rounds give a
 * distance, heats for points their sum, a knockout how far it went. Who is in it and not beaten has won once
 * the programme is through.
 */
export function outcome(line: Schema['Standing'], final: boolean): Outcome {
  if (line.status) return { words: said(codes.status, line.status) };
  if (line.distance_m !== undefined) return { distance: f.measured(line.distance_m, line.u_distance_m) };
  if (line.points !== undefined) return { words: t.units.points(line.points, line.points_over) };
  if (line.exit) return { words: dayCodes.exit(line.exit) };
  if (line.rank === 0) return { words: screenTexts.standings.noneYet };
  return { words: final && line.rank === 1 ? screenTexts.standings.winner : screenTexts.standings.inIt };
}

/**
 * placeOf is the place to show: none for who has no rank, and none while it is
 * still in a knockout, where all who are left share the first.
 */
export function placeOf(line: Schema['Standing'], final: boolean): number | undefined {
  const unbeaten = !line.status && !line.exit && line.distance_m === undefined && line.points === undefined;
  return line.rank === 0 || (unbeaten && !final) ? undefined : line.rank;
}

/** rounds that the runs of a division's standings have, for the columns. */
export function roundsRun(lines: readonly Schema['Standing'][]): number[] {
  return [...new Set(lines.flatMap((line) => line.runs.map((run) => run.round)))].sort((a, b) => a - b);
}

/**
 * notes on a line, as sentences: the tie-break that placed it, its place in its own division where several race
 * together, its place in a plate, how far it came, and whom it cannot be told from.
 */
export function notes(line: Schema['Standing']): string[] {
  const out: string[] = [];
  // That the result decided is what everybody expects.
  if (line.decided_by && line.decided_by !== 'result') out.push(said(dayCodes.decidedBy, line.decided_by));
  if (line.band_rank) out.push(t.inBand(line.band_rank, line.band_name ?? ''));
  if (line.plate_rank) out.push(dayCodes.plateRank(line.plate_rank));
  // Of heats of many the distance stands as the result.
  if (line.exit && line.distance_m !== undefined) out.push(dayCodes.exit(line.exit));
  if (line.too_close_to?.length) out.push(screenTexts.standings.tooClose(line.too_close_to));
  return out;
}
