import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { rules as r } from '$lib/i18n/en/screen/rules';

const given: Schema['Rules'] = {
  protest_s: 300,
  call_s: 90,
  reruns_per_entry: 1,
  tie: 'shared',
  did_not_finish: 'no-result',
  benches: 'report',
  late: 'no',
  hand_counts: 'shown',
};

describe('the sheet says the rules in sentences', () => {
  test('times', () => {
    expect(r.provisional(given)).toContain('may change for 5 minutes');
    expect(r.provisional({ ...given, protest_s: 0 })).toContain('as soon as its round is closed');
    expect(r.call(given)).toContain('has 90 seconds');
    expect(r.call({ ...given, call_s: 0 })).toContain('at once');
    expect(r.reruns(given)).toContain('get 1 re-run in');
    expect(r.promised(3)).toBe('Everybody who stays to the end has at least 3 races in a division.');
    expect(r.reruns({ ...given, reruns_per_entry: 0 })).toContain('no re-runs');
  });

  const stages: [Schema['StageBody'], boolean, string][] = [
    [
      { kind: 'timed-rounds', race_s: 360, rounds: 3, lanes: 4, rule: 'best' },
      true,
      'Timed rounds, 3 rounds, each run lasts 6 minutes, up to 4 cars in a heat, the best run counts.',
    ],
    [
      { kind: 'knockout', race_s: 60, lanes: 2, entries: 8, third_place: true },
      false,
      'Knockout of the best 8, each run lasts 60 seconds, up to 2 cars in a heat, with a race for third place.',
    ],
    [
      { kind: 'swiss', race_s: 45, rounds: 5, lanes: 2, entries: 0 },
      false,
      'Swiss rounds, 5 rounds, each run lasts 45 seconds, up to 2 cars in a heat.',
    ],
  ];
  test.each(stages)('a stage %#', (stage, first, says) => expect(r.stage(stage, first)).toBe(says));

  test('batteries and what is checked', () => {
    expect(
      r.battery({
        chemistry: 'nickel-metal-hydride',
        cells: 2,
        open_v: { min: 2.4, max: 3 },
        valid_s: 1800,
        rest_s: 300,
      }),
    ).toBe(
      'Batteries: 2 cells, nickel-metal hydride, 2.4 to 3 V at rest, a check counts for 30 minutes, 5 minutes of rest between two runs.',
    );
    expect(
      r.checklist([
        { id: 'mass', name: 'mass', unit: 'g', max: 150 },
        { id: 'edges', name: 'no sharp edges' },
      ]),
    ).toBe('Checked before racing: mass: at most 150 g; no sharp edges.');
  });

  test('cars and how they start', () => {
    expect(r.car({ name: 'Open', lap_m: 1, cells: 1, wheel_mm: 24.5, mass_max_g: 150 })).toBe(
      'Cars: Open, 1 cell, wheels of 24.5 mm, at most 150 g.',
    );
    expect(r.release('Let go on the signal')).toBe('Start: Let go on the signal.');
    expect(r.release('Let go!')).toBe('Start: Let go!');
  });
});
