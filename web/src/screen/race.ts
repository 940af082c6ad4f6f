import type { Schema } from '$lib/api';

type Heat = Schema['Heat'];
type Lane = Schema['Lane'];
type LiveSpeed = Schema['LiveSpeed'];

/** LaneNow is what a lane of a race under way shows. */
export interface LaneNow {
  lane: Lane;
  /** The live telemetry of this very run; undefined until some came. */
  live: LiveSpeed | undefined;
  distanceM: number | undefined;
  leads: boolean;
  /** Length of its bar, 0 to 1: the leader's reaches the end when the time is up. */
  bar: number;
}

/** secondsLeft of a race, by the server's clock; undefined before its start. */
export function secondsLeft(heat: Heat, nowMs: number): number | undefined {
  if (!heat.started || heat.race_s === undefined) return undefined;
  return Math.max(0, heat.race_s - (nowMs - Date.parse(heat.started)) / 1000);
}

/**
 * lanesNow puts the telemetry to the lanes of a heat, in the order of their
 * benches, as the hall sees them. Telemetry of another run is left out.
 */
export function lanesNow(heat: Heat, speedOf: (bench: string) => LiveSpeed | undefined): LaneNow[] {
  const lanes = heat.lanes.map((lane) => {
    const newest = lane.bench === undefined ? undefined : speedOf(lane.bench);
    const live = newest && newest.run === (lane.armed ?? lane.run) ? newest : undefined;
    return { lane, live, distanceM: lane.distance_m ?? live?.distance_m };
  });
  lanes.sort(
    (a, b) =>
      (a.lane.bench_number ?? 0) - (b.lane.bench_number ?? 0) || a.lane.racer.start_number - b.lane.racer.start_number,
  );
  const far = Math.max(0, ...lanes.map((l) => l.distanceM ?? 0));
  const elapsed = Math.max(
    0,
    ...lanes.map((l) => (l.lane.distance_m === undefined ? (l.live?.elapsed_s ?? 0) : (heat.race_s ?? 0))),
  );
  const done = heat.race_s ? Math.min(1, elapsed / heat.race_s) : 0;
  // A lane that is through, beside one that races again, is not ahead of it.
  const together =
    lanes.every((l) => l.lane.distance_m === undefined) ||
    lanes.every((l) => l.lane.distance_m !== undefined || l.lane.status);
  const leaders = lanes.filter((l) => far > 0 && l.distanceM === far).length;
  return lanes.map((l) => ({
    ...l,
    leads: together && leaders === 1 && far > 0 && l.distanceM === far && lanes.length > 1,
    bar: far > 0 ? ((l.distanceM ?? 0) / far) * done : 0,
  }));
}

const most = (numbers: readonly number[]): number => Math.max(0, ...numbers);

/** rowsOf deals a list into rows of so many. */
const rowsOf = <T>(list: readonly T[], columns: number): T[][] =>
  Array.from({ length: Math.ceil(list.length / columns) }, (_, i) => list.slice(i * columns, (i + 1) * columns));

/**
 * heatColumns is in how many columns the races on a wall stand beside each other, and
 * laneColumns in how many the lanes of one that stands alone do: so many lanes keep a
 * size that is read from afar.
 */
export const heatColumns = (heats: readonly Heat[]): number => (heats.length > 1 ? 2 : 1);
export const laneColumns = (heats: readonly Heat[]): number =>
  heats.length === 1 && heats[0]!.lanes.length > 5 ? 2 : 1;

/** How high a lane of a race is on a wall, in rem: the fewer there are, the larger. */
const laneRem = (rows: number, large: boolean): number =>
  Math.min(large ? 7.5 : 4.6, Math.max(2.75, 13.75 / Math.max(1, rows)));
const raceHeadRem = 2.7;

/** stageRem is how high the races on a wall are, in rem, in so many columns of heats. */
export function stageRem(heats: readonly Heat[], columns: number): number {
  const lanes = laneColumns(heats);
  const rows = rowsOf(heats, columns).map((row) => most(row.map((heat) => Math.ceil(heat.lanes.length / lanes))));
  const all = rows.reduce((sum, n) => sum + n, 0);
  return all * laneRem(all, heats.length === 1) + rows.length * raceHeadRem;
}

/** callsRem is how high the calls are, in rem, with their heats in so many columns. */
export function callsRem(heats: readonly Heat[], columns: number): number {
  const rows = rowsOf(heats, columns).map((row) => most(row.map((heat) => heat.lanes.length)));
  return rows.reduce((sum, n) => sum + n * 2.9 + 4, heats.length > 0 ? 3 : 5);
}

/** byPlace sorts the lanes of a posted heat: places first, then who has none, by start number. */
export function byPlace(lanes: readonly Lane[]): Lane[] {
  return [...lanes].sort((a, b) => (a.place ?? 999) - (b.place ?? 999) || a.racer.start_number - b.racer.start_number);
}

/**
 * newest lists the posted heats, newest first: those of the call board, then the
 * official ones of the day.
 */
export function newest(posted: readonly Heat[], all: readonly Heat[]): Heat[] {
  const shown = new Set(posted.map((h) => h.id));
  const official = all.filter((h) => h.phase === 'official' && h.posted && !shown.has(h.id));
  official.sort((a, b) => b.posted!.localeCompare(a.posted!) || a.id.localeCompare(b.id));
  return [...posted, ...official];
}
