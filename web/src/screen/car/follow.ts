import type { Schema } from '$lib/api';

type Lane = Schema['Lane'];

/**
 * changesOf is a text that changes when a run of some lanes came, counts, or counts no
 * more, and with nothing else: a sheet that is open reads again when it does.
 */
export function changesOf(
  board: Schema['Board'] | undefined,
  ofInterest: (heat: Schema['Heat'], lane: Lane) => boolean,
): string {
  if (!board) return '';
  const said = ({ run, distance_m, status, penalty_m }: Lane) => [run, distance_m, status, penalty_m];
  return JSON.stringify(
    [...board.racing, ...board.posted].flatMap((heat) =>
      heat.lanes.filter((lane) => lane.run && ofInterest(heat, lane)).map((lane) => [heat.id, ...said(lane)]),
    ),
  );
}
