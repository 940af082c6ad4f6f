import type { Schema } from '$lib/api';

type Division = Pick<
  Schema['Division'],
  'entries_closed' | 'stage' | 'stages' | 'round' | 'rounds_total' | 'round_closed' | 'ended_early' | 'draw_next'
>;

export interface Steps {
  draw: boolean;
  close: boolean;
  drawAgain: boolean;
  /** Ends the division before its last round. */
  end: boolean;
  publish: boolean;
}

/** stepsOf says which steps a division may be ready for; the server has the last word. */
export function stepsOf(d: Division): Steps {
  const none = { draw: false, close: false, drawAgain: false, end: false, publish: false };
  if (d.ended_early) return { ...none, publish: true };
  if (d.stage === 0) return { ...none, draw: d.entries_closed };
  // Rounds that do not wait for one another are drawn while those before are open.
  if (!d.round_closed) return { ...none, draw: d.draw_next === true, close: true, drawAgain: true };
  const through = d.stage === d.stages.length && d.round >= d.rounds_total;
  return { ...none, draw: !through, end: !through, publish: through };
}
