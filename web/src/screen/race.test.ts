import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import {
  byPlace,
  callsRem,
  heatColumns,
  laneColumns,
  laneRows,
  lanesNow,
  nameLines,
  newest,
  secondsLeft,
  stageRem,
} from './race';

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

test('a long nickname has the height of its lines where races stand side by side, and nowhere else', () => {
  const called = (bench: number, name: string) =>
    lane(bench, bench, { racer: { entry: `e${bench}`, start_number: bench, display_name: name } });
  const long = 'Thunderbolt the Unstoppable Otter of May'; // as long as one may be
  const heats = [
    heat([called(3, 'Puffin'), called(1, long), called(2, 'Puffin'), called(4, 'Puffin'), called(5, 'Puffin')]),
    heat([6, 7, 8, 9, 10].map((bench) => called(bench, 'The Unstoppable Otter'))),
  ];
  const rem = 24; // pixels at 1920 by 1080
  // Its letters are 30 pixels high, a line a tenth more; below is the bar. Rows are in the order of the benches.
  expect(laneRows(heats, heats[0]!, 2).map((rows) => rows * rem > 3 * 33 + 8)).toEqual([
    true,
    false,
    false,
    false,
    false,
  ]);
  for (const each of laneRows(heats, heats[1]!, 2)) expect(each * rem).toBeGreaterThan(2 * 33 + 8);
  // The main part of a wall has 34 rem, of which results need 12.5.
  expect(stageRem(heats, 2)).toBeLessThan(21.5);
  // One below the other they have the whole width, and alone too, with five lanes.
  for (const each of [laneRows(heats, heats[0]!, 1), laneRows(heats.slice(0, 1), heats[0]!, 2)])
    expect(new Set(each).size).toBe(1);
  // Ten lanes of one race stand in two columns of five.
  const ten = heat([...heats[0]!.lanes, ...heats[1]!.lanes]);
  expect(laneRows([ten], ten, 2).map((rows) => rows * rem > 3 * 33 + 8)).toEqual([true, false, false, false, false]);
});

test.each([
  ['', 1],
  ['Puffin', 1],
  ['The Unstoppable', 1],
  ['The Unstoppables', 2],
  ['Thunderbolt Unstoppable Otter', 3],
  ['Thunderbolt the Unstoppable Otter of May', 3],
  ['Donaudampfschifffahrtsgesellschaftskapit', 3],
])('%s is broken into lines of words', (name, lines) => expect(nameLines(name)).toBe(lines));
