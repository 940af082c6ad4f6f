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

const byBench = (a: Lane, b: Lane): number =>
  (a.bench_number ?? 0) - (b.bench_number ?? 0) || a.racer.start_number - b.racer.start_number;

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
  lanes.sort((a, b) => byBench(a.lane, b.lane));
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
/** How high the head of a race is, in rem: its title has two lines where two races stand side by side. */
const raceHeadRem = (columns: number) => (columns > 1 ? 3.6 : 2.7);

/** nameLines is in how many lines of half a wall's width a nickname is broken: some 15 narrow letters each. */
export function nameLines(name: string): number {
  const room = 15;
  let [lines, used] = [1, 0];
  for (const { length } of name.split(/\s+/)) {
    if (used > 0 && used + 1 + length > room) [lines, used] = [lines + 1, 0];
    used += length + (used > 0 ? 1 : 0);
    for (; used > room; used -= room) lines++;
  }
  return lines;
}

/** How high a nickname is in half a wall's width, in rem: its lines, and the bar below. */
const nameRem = (name: string): number => nameLines(name) * 1.38 + 0.4;

/**
 * laneRows is how high each row of lanes of a race is on a wall that has its races in so many columns, in rem. What
 * stands in half of its width, a race or a lane, has room for long nicknames.
 */
export function laneRows(heats: readonly Heat[], heat: Heat, columns: number): number[] {
  const lanes = laneColumns(heats);
  const rows = rowsOf(heats, columns).map((row) => most(row.map((each) => Math.ceil(each.lanes.length / lanes))));
  const usual = laneRem(
    rows.reduce((sum, n) => sum + n, 0),
    heats.length === 1,
  );
  const half = lanes > 1 || (columns > 1 && heats.length > 1);
  return rowsOf(heat.lanes.toSorted(byBench), lanes).map((row) =>
    Math.max(usual, half ? most(row.map((lane) => nameRem(lane.racer.display_name ?? ''))) : 0),
  );
}

/** stageRem is how high the races on a wall are, in rem, in so many columns of heats. */
export function stageRem(heats: readonly Heat[], columns: number): number {
  const head = raceHeadRem(Math.min(columns, heats.length));
  const highest = (row: Heat[]) =>
    most(row.map((heat) => laneRows(heats, heat, columns).reduce((sum, rem) => sum + rem, head)));
  return rowsOf(heats, columns).reduce((sum, row) => sum + highest(row), 0);
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
