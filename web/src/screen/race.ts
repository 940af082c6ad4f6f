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

/** laneColumns: many lanes stand in two columns, so that each keeps a size that is read from afar. */
export const laneColumns = (heats: readonly Heat[]): number =>
  heats.reduce((sum, heat) => sum + heat.lanes.length, 0) > 5 ? 2 : 1;

/**
 * stageShare is how many times as high as the rest of a wall the races are: by their rows and titles, within reason.
 */
export function stageShare(heats: readonly Heat[]): number {
  const columns = laneColumns(heats);
  const rows = heats.reduce((sum, heat) => sum + Math.ceil(heat.lanes.length / columns) + 0.7, 0);
  return Math.min(3.2, Math.max(1.5, rows * 0.4));
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
