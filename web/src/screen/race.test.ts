import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { byPlace, callsRem, heatColumns, laneColumns, lanesNow, newest, secondsLeft, stageRem } from './race';

const lane = (number: number, bench: number, more: Partial<Schema['Lane']> = {}): Schema['Lane'] => ({
  racer: { entry: `e${number}`, start_number: number },
  bench: `b${bench}`,
  bench_number: bench,
  state: 'racing',
  armed: `run-${number}`,
  ...more,
});
const heat = (lanes: Schema['Lane'][], more: Partial<Schema['Heat']> = {}): Schema['Heat'] => ({
  id: 'h',
  division: 'j',
  stage: 1,
  round: 1,
  number: 1,
  phase: 'racing',
  race_s: 60,
  lanes,
  ...more,
});
const speed = (run: string, distance: number, elapsed: number): Schema['LiveSpeed'] => ({
  bench: '',
  run,
  rpm: 7000,
  speed_mps: 11,
  distance_m: distance,
  laps: 1,
  elapsed_s: elapsed,
});
const speeds = (of: Record<string, Schema['LiveSpeed']>) => (bench: string) => of[bench];

describe('lanesNow', () => {
  test("stand in the order of the benches; the leader's bar is the share of the time", () => {
    const lanes = lanesNow(
      heat([lane(9, 2), lane(3, 1)]),
      speeds({ b1: speed('run-3', 100, 30), b2: speed('run-9', 200, 30) }),
    );
    expect(lanes.map((l) => [l.lane.racer.start_number, l.bar, l.leads])).toEqual([
      [3, 0.25, false],
      [9, 0.5, true],
    ]);
  });

  test('telemetry of another run is not shown', () => {
    const [only] = lanesNow(heat([lane(3, 1)]), speeds({ b1: speed('run-of-before', 100, 30) }));
    expect(only).toMatchObject({ live: undefined, distanceM: undefined, bar: 0, leads: false });
  });

  test('equals do not lead', () => {
    const lanes = lanesNow(
      heat([lane(3, 1), lane(9, 2)]),
      speeds({ b1: speed('run-3', 50, 9), b2: speed('run-9', 50, 9) }),
    );
    expect(lanes.some((l) => l.leads)).toBe(false);
  });

  test('who is through does not lead one that races again', () => {
    const through = lane(3, 1, { state: 'done', run: 'run-3', distance_m: 600 });
    const lanes = lanesNow(heat([through, lane(9, 2)]), speeds({ b2: speed('run-9', 100, 10) }));
    expect(lanes.map((l) => [l.leads, l.bar])).toEqual([
      [false, 1],
      [false, 1 / 6],
    ]);
  });
});

test("secondsLeft counts down by the server's clock and stops at zero", () => {
  const started = heat([], { started: '2027-04-17T10:00:00Z' });
  expect(secondsLeft(started, Date.parse('2027-04-17T10:00:15Z'))).toBe(45);
  expect(secondsLeft(started, Date.parse('2027-04-17T10:09:00Z'))).toBe(0);
  expect(secondsLeft(heat([]), 0)).toBeUndefined();
});

test('byPlace puts places first, then start numbers', () => {
  const lanes = [lane(9, 1), lane(4, 2, { place: 2 }), lane(5, 3), lane(7, 4, { place: 1 })];
  expect(byPlace(lanes).map((l) => l.racer.start_number)).toEqual([7, 4, 5, 9]);
});

test('newest lists the posted ones, then the official ones, newest first, each once', () => {
  const at = (id: string, phase: Schema['Heat']['phase'], posted?: string) =>
    heat([], { id, phase, ...(posted ? { posted } : {}) });
  const posted = [at('p', 'provisional', '2027-04-17T10:05:00Z')];
  const all = [
    at('a', 'official', '2027-04-17T10:01:00Z'),
    at('b', 'official', '2027-04-17T10:03:00Z'),
    at('p', 'official', '2027-04-17T10:05:00Z'),
    at('d', 'drawn'),
  ];
  expect(newest(posted, all).map((h) => h.id)).toEqual(['p', 'b', 'a']);
});

test('a wall gives many lanes two columns and more of its height', () => {
  const of = (...counts: number[]) => counts.map((n) => heat(Array.from({ length: n }, (_, i) => lane(i + 1, i + 1))));
  expect([of(5), of(6), of(4, 4)].map(laneColumns)).toEqual([1, 2, 1]);
  expect([of(5), of(6), of(4, 4)].map(heatColumns)).toEqual([1, 1, 2]);
  // In two columns, a main part of 34 rem keeps 15 for results beside two races of five.
  expect(stageRem(of(5, 5), 2)).toBeLessThan(19);
  expect(stageRem(of(5, 5), 1)).toBeGreaterThan(stageRem(of(5, 5), 2));
  expect(callsRem(of(5, 5), 1)).toBeGreaterThan(10 * 2.25); // ten rows with plates of 1.75 rem
  expect(callsRem(of(5, 5), 2)).toBeLessThan(callsRem(of(5, 5), 1));
});
