import type { Schema } from '$lib/api';
import type { Kept, LanePlace } from './queue';

type Order = Schema['BenchOrder'];
type Heat = Schema['Heat'];
type Lane = Schema['Lane'];

/** OnBench is the car that a heat brings to this bench. */
export interface OnBench {
  at: LanePlace;
  name: string | undefined;
  raceS: number;
  lapM: number;
  release: string | undefined;
  /** The run that the bench is to make. */
  run: string | undefined;
  /** When the call ends and when the race began, by the server's clock, in ms. */
  deadline: number | undefined;
  started: number | undefined;
  rerunAsked: boolean;
  /** The battery pack to race with, whether it was dealt by lot, and until when its check counts, in ms. */
  pack: string | undefined;
  packDealt: boolean;
  packValid: number | undefined;
  /** What the inspector's table still wants, and whether the car waits for it. */
  missing: Schema['Says'][];
  held: boolean;
}

/** Done is a lane of this bench that has been raced, or ruled on. */
export interface Done {
  heat: Heat;
  lane: Lane;
}

/** Scene is what the bench page shows. */
export type Scene =
  | { kind: 'waiting' }
  | { kind: 'no-bench' }
  | { kind: 'out'; reason: string | undefined; lane: OnBench | undefined }
  /** `takenBack`: the Ready is taken back here, but not sent yet. */
  | { kind: 'called'; lane: OnBench; takenBack: boolean }
  | { kind: 'ready'; lane: OnBench; unsent: boolean }
  | { kind: 'racing'; lane: OnBench; counted: boolean }
  | { kind: 'practice'; order: Order }
  /** The bench is in a practice session, with a run or without. */
  | { kind: 'afternoon'; order: Order; session: string }
  | { kind: 'free'; done: Done | undefined; next: Next; reference?: Schema['ReferenceOrder'] };

/** Next is who comes after, as far as it is known before the call. */
export interface Next {
  /** The car that comes to this bench. */
  racer?: Schema['Racer'];
  rerun?: boolean;
  /** Otherwise the cars of the heat that is next, at whichever bench. */
  racers: Schema['Racer'][];
}

/** Facts are everything that the page knows. */
export interface Facts {
  bench: string;
  order: Order | undefined;
  meet: Schema['Meet'] | undefined;
  board: Schema['Board'] | undefined;
  /** Orders that the server may not show yet: unsent ones, and those that were just carried out. */
  pending: readonly Kept[];
  /** Those of them that are unsent for so long that people should know. */
  late: readonly Kept[];
}

const lanesOf = (heat: Heat, bench: string) => heat.lanes.filter((lane) => lane.bench === bench);
const ms = (instant: string | undefined) => (instant === undefined ? undefined : Date.parse(instant));

/**
 * newestOrder chooses between what the bench was last told when it asked and what
 * the feed of its meet says. The feed is quicker; the answer knows all meets.
 */
export function newestOrder(
  asked: Order | undefined,
  fed: Order | undefined,
  meet: string | undefined,
): Order | undefined {
  if (!fed || fed.kind === 'heat') return fed ?? asked;
  if (asked?.kind === 'heat' && asked.meet === meet) return fed;
  return asked ?? fed;
}

/** sceneOf says what to show. */
export function sceneOf(facts: Facts): Scene {
  const { order, bench } = facts;
  if (!order) return { kind: 'waiting' };
  if (order.number === undefined && order.kind !== 'heat') return { kind: 'no-bench' };
  const lane = order.kind === 'heat' ? onBench(order, facts) : undefined;
  if (order.out_of_service && order.state !== 'racing') {
    return { kind: 'out', reason: facts.meet?.benches.find((one) => one.id === bench)?.reason, lane };
  }
  if (lane) {
    const among = (orders: readonly Kept[], kind: Kept['kind']) =>
      orders.some((one) => one.kind === kind && about(one, lane));
    if (order.state === 'racing') return { kind: 'racing', lane, counted: among(facts.pending, 'hand') };
    const given = lastOf(
      facts.pending.filter((one) => (one.kind === 'ready' || one.kind === 'not-ready') && about(one, lane)),
    );
    const late = given !== undefined && facts.late.includes(given);
    if (given?.kind === 'not-ready') return { kind: 'called', lane, takenBack: late };
    if (order.state === 'ready') return { kind: 'ready', lane, unsent: false };
    return given ? { kind: 'ready', lane, unsent: late } : { kind: 'called', lane, takenBack: false };
  }
  if (order.session !== undefined && !order.reference) return { kind: 'afternoon', order, session: order.session };
  if (order.kind === 'practice') return { kind: 'practice', order };
  return {
    kind: 'free',
    done: lastDone(facts.board, bench),
    next: nextAt(facts.board, bench),
    ...(order.reference && { reference: order.reference }),
  };
}

/** lastOf is what was given last: that is how it will be. */
const lastOf = (orders: readonly Kept[]) =>
  orders.reduce<Kept | undefined>((last, one) => (last && last.n > one.n ? last : one), undefined);

const about = (order: Kept, lane: OnBench) => order.heat === lane.at.heat && order.entry === lane.at.entry;

function onBench(order: Order, { board, bench }: Facts): OnBench {
  const heat = [...(board?.called ?? []), ...(board?.racing ?? [])].find((one) => one.id === order.heat);
  const lane = heat?.lanes.find((one) => one.racer.entry === order.entry);
  return {
    at: { meet: order.meet!, heat: order.heat!, bench, entry: order.entry!, number: order.start_number! },
    name: order.display_name,
    raceS: order.race_s ?? 0,
    lapM: order.lap_m ?? 0,
    release: order.release,
    run: order.run,
    deadline: ms(heat?.deadline),
    started: ms(heat?.started),
    rerunAsked: lane?.rerun_asked !== undefined,
    pack: order.pack,
    packDealt: order.pack_dealt ?? false,
    packValid: ms(order.pack_valid_until),
    missing: order.table ?? [],
    held: order.held ?? false,
  };
}

/** lastDone is the lane that was raced last on the bench; official ones are over. */
export function lastDone(board: Schema['Board'] | undefined, bench: string): Done | undefined {
  if (!board) return undefined;
  for (const heat of [...board.racing, ...board.called, ...board.next, ...board.posted]) {
    const lane = lanesOf(heat, bench).find((one) => one.state === 'done');
    if (lane) return { heat, lane };
  }
  return undefined;
}

function nextAt(board: Schema['Board'] | undefined, bench: string): Next {
  for (const heat of board?.next ?? []) {
    const lane = lanesOf(heat, bench).find((one) => one.state !== 'done');
    if (lane) return { racer: lane.racer, rerun: true, racers: [] };
  }
  return { racers: board?.next[0]?.lanes.filter((one) => one.state !== 'done').map((one) => one.racer) ?? [] };
}

/** wants says in one word what a bench is at, for the plates of a phone that runs several. */
export function wants(board: Schema['Board'] | undefined, bench: string): 'called' | 'ready' | 'racing' | undefined {
  for (const heat of [...(board?.racing ?? []), ...(board?.called ?? [])]) {
    const state = lanesOf(heat, bench).find((one) => one.state !== 'done')?.state;
    if (state === 'called' || state === 'ready' || state === 'racing') return state;
  }
  return undefined;
}

/** Asked is that an official is asked for at a bench. */
export interface Asked {
  since: Date;
  /** The server does not know it, and people should know that. */
  unsent: boolean;
}

/** askedFor is what a bench has asked an official for, as it will be once all is sent and shown. */
export function askedFor(
  bench: string,
  meet: Schema['Meet'] | undefined,
  pending: readonly Kept[],
  late: readonly Kept[],
): Asked | undefined {
  const given = lastOf(pending.filter((one) => one.kind === 'official' && one.bench === bench));
  if (given)
    return given.body.includes('true') ? { since: new Date(given.given), unsent: late.includes(given) } : undefined;
  const since = meet?.benches.find((one) => one.id === bench)?.official_wanted;
  return since ? { since: new Date(since), unsent: false } : undefined;
}
