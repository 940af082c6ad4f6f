import type { Schema } from '$lib/api';

/** What the bench may order; each kind is one operation of the contract. */
export type Kind =
  | 'ready'
  | 'not-ready'
  | 'rerun'
  | 'hand'
  | 'practice'
  | 'official'
  // of a practice session
  | 'session'
  | 'queue'
  | 'cancel'
  | 'guess'
  | 'move'
  | 'setup';

/**
 * Draft is an order as the volunteer gave it. Path and body are kept as they will
 * be sent, so that every try carries the same content under the same key.
 */
export interface Draft {
  kind: Kind;
  path: string;
  body: string;
  /** For the page: which lane or bench it is about. */
  bench: string;
  heat?: string;
  entry?: string;
  /** Start number or car number, to name it to the volunteer. */
  number?: number;
}

/** Kept is an order in the queue. */
export interface Kept extends Draft {
  /** Its place in the queue; given by the store. */
  n: number;
  /** The Idempotency-Key: the same for every try. */
  key: string;
  /** When it was given, by the phone's clock, in ms. */
  given: number;
  /** How many tries of it were begun, on all pages: with one the server may have it, whatever came back. */
  tries?: number;
  /** It is not to be carried out any more: the server is asked to take it back, and says whether it had done it. */
  ends?: Ends;
  /** What became of it where that has to be read: a no, or something that surprises. */
  refused?: Refused;
}

/**
 * Why an order is taken back: it grew too old, the volunteer wants it back, or the server said no to a second try of
 * it.
 */
export type Ends = { why: 'too-old' } | { why: 'taken-back' } | { why: 'refused'; no: Refused };

/** Refused is how an order ended that was not simply carried out. */
export interface Refused {
  code: string;
  says: string;
  /**
   * `already`: it had come true without it. `too-old`: not sent any more, and not carried out.
   * `done`: carried out, though it was to be taken back. `unknown`: nobody can say. Otherwise a no.
   */
  kind?: 'already' | 'too-old' | 'done' | 'unknown';
}

/**
 * How long an order may wait for the network, in ms, where coming late would be wrong:
 * a bench must not start a practice run that nobody waits for any more, and nobody
 * may be called ready, or an official called, who is not wanted any more. A request for a re-run and a count are
 * right however late they come; the server knows when they are too late. So are whose run it was and what was changed
 * at a car.
 */
export const lastsMs: Partial<Record<Kind, number>> = {
  practice: 60_000,
  ready: 5 * 60_000,
  'not-ready': 5 * 60_000,
  official: 15 * 60_000,
  session: 60_000,
  queue: 5 * 60_000,
  cancel: 60_000,
  guess: 60_000,
};

/** tooOld says whether an order must not be carried out any more. */
export const tooOld = (order: Kept, now: number): boolean => now - order.given > (lastsMs[order.kind] ?? Infinity);

/** Where a lane stands. */
export interface LanePlace {
  meet: string;
  heat: string;
  bench: string;
  entry: string;
  number: number;
}

const heatPath = (at: LanePlace, what: string) =>
  `/api/v1/meets/${encodeURIComponent(at.meet)}/heats/${encodeURIComponent(at.heat)}/${what}`;

const draft = (kind: Kind, at: LanePlace, what: string, body: unknown): Draft => ({
  kind,
  path: heatPath(at, what),
  body: JSON.stringify(body),
  bench: at.bench,
  heat: at.heat,
  entry: at.entry,
  number: at.number,
});

/**
 * confirmReady says that the car with this number, as read from it, stands at the bench; with the battery pack in it,
 * where that was read too.
 */
export const confirmReady = (at: LanePlace, read: number, pack?: string): Draft =>
  draft('ready', at, 'ready', {
    bench: at.bench,
    start_number: read,
    ...(pack && { pack }),
  } satisfies Schema['ConfirmReady']);

/** takeReadyBack says that the car is not ready after all. */
export const takeReadyBack = (at: LanePlace): Draft =>
  draft('not-ready', at, 'not-ready', { bench: at.bench } satisfies Schema['TakeReadyBack']);

/** wantOfficial asks for an official at a bench, or says that none is needed any more. */
export const wantOfficial = (meet: string, bench: string, wanted: boolean): Draft => ({
  kind: 'official',
  path: `/api/v1/meets/${encodeURIComponent(meet)}/benches/${encodeURIComponent(bench)}/official`,
  body: JSON.stringify({ wanted } satisfies Schema['WantOfficial']),
  bench,
});

/** askRerun asks an official for a re-run. */
export const askRerun = (at: LanePlace, code: string, text: string): Draft => {
  const reason: Schema['Reason'] = text.trim() ? { code, text: text.trim() } : { code };
  return draft('rerun', at, 'ask-rerun', { entry: at.entry, reason } satisfies Schema['AskRerun']);
};

/** handCount hands in a counted distance with its standard uncertainty, both in m. */
export const handCount = (at: LanePlace, count: { distance: number; uncertainty: number }, counted: Date): Draft =>
  draft('hand', at, 'hand-count', {
    entry: at.entry,
    distance_m: count.distance,
    u_distance_m: count.uncertainty,
    counted: counted.toISOString(),
  } satisfies Schema['HandCount']);

/** armReference asks the bench for its next run of a reference check. */
export const armReference = (bench: string, reference: Schema['ReferenceOrder']): Draft => ({
  kind: 'practice',
  path: `/api/v1/benches/${encodeURIComponent(bench)}/practice`,
  body: JSON.stringify({
    race_s: reference.race_s,
    car_number: reference.car_number,
    reference_meet: reference.meet,
  } satisfies Schema['ArmPractice']),
  bench,
  number: reference.car_number,
});

/** armPractice asks the bench for a practice run of a car, or of none. */
export const armPractice = (bench: string, seconds: number, car: number | undefined): Draft => ({
  kind: 'practice',
  path: `/api/v1/benches/${encodeURIComponent(bench)}/practice`,
  body: JSON.stringify({
    race_s: seconds,
    ...(car === undefined ? {} : { car_number: car }),
  } satisfies Schema['ArmPractice']),
  bench,
  ...(car === undefined ? {} : { number: car }),
});
