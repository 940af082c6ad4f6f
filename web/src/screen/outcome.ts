import type { Schema } from '$lib/api';
import { f, said, t, type Measured } from '$lib/i18n';
import { codes } from '$lib/i18n/codes';
import { dayCodes } from '$lib/i18n/day-codes';
import { screenTexts } from '$lib/i18n/screen';

/** Outcome is what a line of the standings shows as its result: a distance, or words. */
export type Outcome = { distance: Measured } | { words: string };

/**
 * settled says whether nobody can come before the first any more: the division is
 * through, or of a knockout one is left whom nobody has beaten, and all others are out.
 */
export function settled(table: Pick<Schema['Standings'], 'final' | 'standings'>): boolean {
  if (table.final) return true;
  const stage = Math.max(0, ...table.standings.map((line) => line.stage));
  const lines = table.standings.filter((line) => line.stage === stage && !line.status);
  const left = lines.filter(unbeaten);
  return lines.length > 1 && left.length === 1 && left[0]!.rank === 1 && lines.every((l) => l === left[0] || l.exit);
}

/** unbeaten is who is in a knockout and has not lost it. */
const unbeaten = (line: Schema['Standing']): boolean =>
  !line.status && !line.exit && line.distance_m === undefined && line.points === undefined;

/**
 * outcome of a line: who left the division has a status, timed rounds give a
 * distance, heats for points their sum, a knockout how far it went. Who is in it and not beaten has won once
 * that is settled; see settled. `final` is whether the programme is through: before, that is provisional.
 */
export function outcome(line: Schema['Standing'], won: boolean, final = won): Outcome {
  if (line.status) return { words: said(codes.status, line.status) };
  if (line.distance_m !== undefined) return { distance: f.measured(line.distance_m, line.u_distance_m) };
  if (line.points !== undefined) return { words: t.units.points(line.points, line.points_over) };
  if (line.exit) return { words: dayCodes.exit(line.exit) };
  if (line.rank === 0) return { words: screenTexts.standings.noneYet };
  if (!won || line.rank !== 1) return { words: screenTexts.standings.inIt };
  return { words: final ? screenTexts.standings.winner : screenTexts.standings.winnerYet };
}

/**
 * placeOf is the place to show: none for who has no rank, and none while it is
 * still in a knockout, where all who are left share the first, until that is settled.
 */
export function placeOf(line: Schema['Standing'], won: boolean): number | undefined {
  return line.rank === 0 || (unbeaten(line) && !(won && line.rank === 1)) ? undefined : line.rank;
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
