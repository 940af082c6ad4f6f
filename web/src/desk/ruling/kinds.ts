import type { Schema } from '$lib/api';

export type Kind = Schema['RulingBody']['kind'];
export type FieldName = Exclude<keyof Schema['RulingBody'], 'kind' | 'reason'>;

/** What each kind of ruling needs besides its reason, as the contract says. */
export const needs: Record<Kind, readonly FieldName[]> = {
  'grant-rerun': ['heat', 'entry', 'counts'],
  'turn-down-rerun': ['heat', 'entry'],
  'let-stand': ['heat', 'entry'],
  'accept-run': ['run', 'heat', 'entry'],
  'set-aside': ['run'],
  reassign: ['run', 'heat', 'entry'],
  swap: ['heat', 'entry', 'other'],
  void: ['heat'],
  'did-not-start': ['heat', 'entry'],
  'did-not-finish': ['heat', 'entry'],
  'disqualify-heat': ['heat', 'entry'],
  lift: ['heat', 'entry'],
  disqualify: ['entry'],
  withdraw: ['entry'],
  reinstate: ['entry'],
  penalise: ['heat', 'entry', 'penalty_m'],
  'let-race': ['heat', 'entry'],
  'correct-hand-count': ['run', 'distance_m', 'u_distance_m'],
  'draw-rest': ['heat'],
  'set-clock': [],
};

/** The reason that a ruling of a kind usually has; the official may choose another. */
const usual: Partial<Record<Kind, string>> = {
  'grant-rerun': 'bench-fault',
  'accept-run': 'bench-fault',
  'set-aside': 'volunteer-error',
  reassign: 'wrong-car',
  swap: 'wrong-car',
  void: 'power',
  'did-not-start': 'not-there',
  'did-not-finish': 'stalled',
  'disqualify-heat': 'car-not-legal',
  disqualify: 'car-not-legal',
  withdraw: 'family',
  penalise: 'false-start',
  'let-race': 'time',
  'correct-hand-count': 'volunteer-error',
  'draw-rest': 'bench-fault',
};
export const usualReason = (kind: Kind): string => usual[kind] ?? 'other';

/** Kinds that move a run to a lane: the lane has to be chosen. */
export const choosesLane = (kind: Kind): boolean => kind === 'accept-run' || kind === 'reassign';

/**
 * laneKinds are the rulings that make sense for a lane as it stands, the likeliest
 * first. The server has the last word; this only keeps the list short.
 */
export function laneKinds(heat: Schema['Heat'], lane: Schema['Lane']): Kind[] {
  const kinds: Kind[] = [];
  const raced = lane.run !== undefined;
  const others = heat.lanes.filter((l) => l.run && l.racer.entry !== lane.racer.entry).length;
  if (lane.rerun_asked) kinds.push('grant-rerun', 'turn-down-rerun');
  else if (lane.state === 'done' || lane.state === 'racing') kinds.push('grant-rerun');
  if (raced && lane.source === 'hand') kinds.push('correct-hand-count');
  if (raced) kinds.push('reassign', 'let-stand');
  if (raced && others > 0) kinds.push('swap');
  if (!raced && lane.state !== 'racing' && !lane.status) kinds.push('did-not-start');
  if ((raced || lane.state === 'racing') && lane.status !== 'did-not-finish') kinds.push('did-not-finish');
  if ((lane.state === 'waiting' || lane.state === 'called') && !lane.let_race) kinds.push('let-race');
  if (lane.status !== 'disqualified') kinds.push('disqualify-heat');
  if (lane.status) kinds.push('lift');
  if (raced) kinds.push('penalise');
  return kinds;
}

/** runKinds are the rulings for a run as it stands. */
export function runKinds(run: Schema['Run']): Kind[] {
  if (run.void) return [];
  const count: Kind[] = run.source === 'hand' ? ['correct-hand-count'] : [];
  if (run.counts) return [...count, 'reassign'];
  return ['accept-run', 'set-aside', ...count];
}

/** entryKinds are the rulings that concern an entry for the rest of the day. */
export function entryKinds(entry: Pick<Schema['Entry'], 'withdrawn' | 'disqualified'>): Kind[] {
  if (entry.disqualified) return ['reinstate'];
  return entry.withdrawn ? ['reinstate', 'disqualify'] : ['withdraw', 'disqualify'];
}

/** Kinds that end or take away something: their button is the one that warns. */
export const takesAway = (kind: Kind): boolean =>
  [
    'void',
    'disqualify',
    'disqualify-heat',
    'withdraw',
    'did-not-start',
    'did-not-finish',
    'set-aside',
    'penalise',
  ].includes(kind);
