import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { sumsOf } from './reckon';
import { shownOf } from './shown';

// A roller of 94.25 mm that turned 2,500 times in 20 s: 235.625 m, 11.78125 m/s.
const turns = 2500;
const read = (turns * 94.25) / 1000;
const figures = {
  method: 'm',
  turns,
  distance_m: read,
  u_distance_m: 0.1,
  laps: 235,
  time_s: 20,
  mean_speed_mps: read / 20,
  max_speed_mps: 13,
  mean_rpm: 7500,
  max_rpm: 8000,
  wheel_mean_rpm: (read / 20 / (Math.PI * 0.026)) * 60,
  flags: [],
} as unknown as Schema['Figures'];
const conditions = {
  circumference_mm: 94.25,
  u_circumference_mm: 0.05,
  marks_per_turn: 1,
  factor: 1,
  clock_ppm: 50,
  lap_m: 3,
  wheel_mm: 26,
} as Schema['RunConditions'];
const run = { id: 'r', figures, counts: true, source: 'bench' } as unknown as Schema['Run'];
const heat = (lane: Partial<Schema['Lane']>) =>
  ({ id: 'h', lanes: [{ run: 'r', ...lane }] }) as unknown as Schema['Heat'];

describe('a run on a bench that reads 1.25 times the mean', () => {
  const is = read / 1.25; // 188.5 m
  const lane = { distance_m: is, u_distance_m: 0.08, as_read_m: read, factor: 1.25 };
  const shown = shownOf({ run, heat: heat(lane), conditions });
  test('is shown with distance, laps and speed of its result', () => {
    expect(shown).toMatchObject({ factor: 1.25, u: 0.08, laps: 62 });
    expect(shown.distanceM).toBeCloseTo(188.5, 6);
    expect(shown.meanMps).toBeCloseTo(9.425, 6);
  });
  test('has the turns of the wheel as the sums of the sheet have them', () => {
    const race = { run, lane: heat(lane).lanes[0], corrected: 1.25 };
    expect(shown.wheelRPM).toBe(sumsOf(race, conditions).wheelRPM);
    // 9.425 m/s around 81.68 mm
    expect(Math.abs(shown.wheelRPM! - (9.425 / (Math.PI * 0.026)) * 60)).toBeLessThan(2);
  });
  test('keeps the penalty apart from how far it went', () => {
    const less = shownOf({ run, heat: heat({ ...lane, distance_m: is - 10, penalty_m: 10 }), conditions });
    expect(less.distanceM).toBeCloseTo(188.5, 6);
    expect(less.penalty).toEqual({ m: 10, resultM: is - 10 });
  });
});

test('a run of no heat is shown as it was read', () =>
  expect(shownOf({ run, conditions })).toMatchObject({ factor: 1, distanceM: read, laps: 235, penalty: undefined }));
