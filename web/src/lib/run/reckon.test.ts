import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { bestOf, numbersOf, racesOf, sumsOf, type RaceLine } from './reckon';

const run = (id: string, distance: number, more: Partial<Schema['Run']> = {}): Schema['Run'] => ({
  id,
  bench: 'b1',
  source: 'bench',
  counts: true,
  heat: `h${id}`,
  racer: { entry: 'e1', start_number: 7 },
  at: `2027-04-17T10:0${id}:00Z`,
  figures: {
    method: 'm',
    turns: distance / 0.09425,
    distance_m: distance,
    u_distance_m: 0.1,
    u95_distance_m: 0.2,
    laps: Math.floor(distance),
    time_s: 60,
    mean_rpm: distance / 0.09425,
    max_rpm: 0,
    mean_speed_mps: distance / 60,
    max_speed_mps: 0,
    extra: 0,
    bridged: 0,
    flags: [],
  },
  ...more,
});
const heats = ['h1', 'h2', 'h3', 'h4'].map((id) => ({ id }) as Schema['Heat']);

/** A race of it; `corrected` as a lane of a corrected bench has it. */
const race = (of: Schema['Run'], corrected = 1): RaceLine => ({
  heat: heats[0]!,
  run: of,
  lane: (corrected === 1
    ? { run: of.id, distance_m: of.figures.distance_m }
    : {
        run: of.id,
        distance_m: Math.round((of.figures.distance_m / corrected) * 1e6) / 1e6,
        as_read_m: of.figures.distance_m,
        factor: corrected,
      }) as Schema['Lane'],
  corrected,
});

describe('racesOf', () => {
  const runs = [
    run('2', 500),
    run('1', 600),
    run('3', 900, { counts: false }),
    run('4', 700, { racer: { entry: 'e2', start_number: 8 } }),
  ];
  test('are the runs that count, in the order of the day', () =>
    expect(racesOf(runs, heats, 'e1').map((r) => r.run.id)).toEqual(['1', '2']));
  test('the furthest is the example, but none that somebody counted', () => {
    expect(bestOf(racesOf(runs, heats, 'e1'))?.run.id).toBe('1');
    expect(bestOf(racesOf([run('1', 600, { source: 'hand' })], heats, 'e1'))).toBeUndefined();
  });
});

describe('sumsOf', () => {
  const conditions: Schema['RunConditions'] = {
    circumference_mm: 94.25,
    u_circumference_mm: 0.1,
    marks_per_turn: 1,
    factor: 1,
    clock_ppm: 50,
    lap_m: 3,
    wheel_mm: 26,
  };
  test('each step follows from the one before as it is written', () => {
    const s = sumsOf(race(run('1', 610.23)), conditions);
    expect(s).toMatchObject({
      turns: 6474.6,
      seconds: 60,
      rpm: 6475,
      metresPerMinute: 610.3,
      kmh: 36.6,
      wheelAroundMM: 81.68,
      lapM: 3,
    });
    expect(s.wheelRPM).toBe(Math.round(610300 / 81.68));
  });
  test.each([20, 60, 360])('what the sums give is close to what was measured in %d seconds', (time_s) => {
    const of = run('1', 610.23);
    const s = sumsOf(race({ ...of, figures: { ...of.figures, time_s, mean_speed_mps: 610.23 / time_s } }), conditions);
    expect(Math.abs(s.kmh - (610.23 / time_s) * 3.6)).toBeLessThan(0.06);
  });
  test.each([4, 20, 60, 360])('the wheel turns as often as on the page of the run, in %d seconds', (time_s) => {
    const of = run('1', 610.23);
    const s = sumsOf(race({ ...of, figures: { ...of.figures, time_s, mean_speed_mps: 610.23 / time_s } }), conditions);
    const measured = ((610.23 / time_s) * 60_000) / (Math.PI * 26);
    expect(Math.abs(s.wheelRPM! - measured) / measured).toBeLessThan(0.0002);
  });
  test('a corrected bench is divided by its factor', () =>
    expect(sumsOf(race(run('1', 610.23)), { ...conditions, factor: 1.02 }).metresPerMinute).toBeCloseTo(
      610.3 / 1.02,
      0,
    ));
  test('without a wheel there is none to reckon', () => {
    const { wheel_mm: _, ...without } = conditions;
    expect(sumsOf(race(run('1', 610.23)), without).wheelRPM).toBeUndefined();
  });
  test('distance, laps, speed and sums of a corrected bench agree', () => {
    let state = 11;
    const dice = () => (state = (state * 48271) % 2147483647) / 2147483647;
    for (let i = 0; i < 300; i++) {
      const turns = 500 + dice() * 9000;
      const [around, factor, corrected] = [
        90 + Math.round(dice() * 1000) / 100,
        1,
        0.97 + Math.round(dice() * 6e4) / 1e6,
      ];
      const read = (turns * around) / 1000 / factor;
      const of = run('1', read);
      const figures = { ...of.figures, turns, time_s: 20, mean_speed_mps: read / 20, laps: Math.floor(read / 3) };
      const line = race({ ...of, figures }, corrected);
      const is = read / corrected;

      const numbers = numbersOf(line, 3);
      expect(numbers.distanceM).toBeCloseTo(is, 5);
      expect(numbers.laps).toBe(Math.floor(is / 3));
      expect(numbers.speedMps).toBeCloseTo(is / 20, 6);

      const sums = sumsOf(line, { ...conditions, circumference_mm: around, factor });
      expect(sums.laps).toBe(numbers.laps);
      expect(sums.distanceM).toBe(numbers.distanceM);
      expect(sums.kmh).toBeCloseTo((is / 20) * 3.6, 0);
      expect(Math.abs((sums.metresPerMinute * 60) / 1000 - sums.kmh)).toBeLessThan(0.06);
      // The last sum, as it is written, gives the result.
      const { exact } = sums;
      expect(Math.abs((exact.turns * exact.aroundMM) / 1000 / exact.factor - is)).toBeLessThan(0.002);
    }
  });
});
