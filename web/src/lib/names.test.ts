import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { checkCode, heatName, racerText, roundName } from './names';

const division: Schema['Division'] = {
  id: 'j',
  name: 'Juniors',
  age_from: 6,
  age_to: 10,
  class: { name: 'Open', lap_m: 1 },
  stages: [
    { kind: 'timed-rounds', race_s: 60, lanes: 4, rounds: 3 },
    { kind: 'knockout', race_s: 60, lanes: 2 },
  ],
  entries_closed: true,
  stage: 2,
  round: 1,
  round_closed: false,
  rounds_total: 4,
  published: 0,
  outdated: false,
};

describe('heatName', () => {
  const cases: [stage: number, round: number, number: number, want: string][] = [
    [1, 3, 2, 'Round 3, heat 2'],
    [2, 1, 5, 'Last 16, heat 5'],
    [2, 2, 4, 'Quarter-final 4'],
    [2, 3, 1, 'Semi-final 1'],
    [2, 4, 1, 'Final'],
  ];
  test.each(cases)('stage %i round %i heat %i', (stage, round, number, want) =>
    expect(heatName(division, { stage, round, number })).toBe(want),
  );
  test('a stage that was not drawn last', () =>
    expect(heatName({ ...division, stage: 1 }, { stage: 2, round: 1, number: 3 })).toBe('Knockout, round 1, heat 3'));
  test('a division that is not known yet', () =>
    expect(heatName(undefined, { stage: 1, round: 1, number: 1 })).toBe('Round 1, heat 1'));
  test('the race for third place', () =>
    expect(heatName(division, { stage: 2, round: 4, number: 2, third_place: true })).toBe('Race for third place'));
});

test('a heat of many that decides more is called by that', () => {
  const of = { ...division, stages: [{ kind: 'heats' as const, race_s: 60, lanes: 6 }] };
  expect(heatName(of, { stage: 1, round: 2, number: 1, purpose: 'b-final' })).toBe('B-final');
  expect(heatName(of, { stage: 1, round: 1, number: 1 })).toBe('Round 1, heat 1');
});

test('roundName', () => {
  expect(roundName(division, 1, 2)).toBe('Round 2');
  expect(roundName(division, 2, 3)).toBe('Semi-finals');
  expect(roundName({ ...division, stage: 1 }, 2, 1, 1)).toBe('Final');
});

test('a plate has rounds of its own', () => {
  expect(roundName(division, 2, 3, undefined, { part: 'plate', rounds_left: 2 })).toBe('Plate: Semi-finals');
  expect(heatName(division, { stage: 2, round: 3, number: 2, part: 'plate', rounds_left: 2 })).toBe(
    'Plate: Semi-final 2',
  );
  expect(heatName(division, { stage: 2, round: 5, number: 1, rounds_left: 2 })).toBe('Semi-final 1');
  expect(
    heatName(division, { stage: 2, round: 4, number: 1, part: 'plate', rounds_left: 1, purpose: 'plate-final' }),
  ).toBe('Plate: Final');
});

test('legs and the decider', () => {
  expect(heatName(division, { stage: 2, round: 3, number: 2, leg: 2 })).toBe('Semi-final 2, leg 2');
  expect(heatName(division, { stage: 2, round: 4, number: 1, leg: 3 })).toBe('Final, decider');
});

describe('the rounds of a double elimination', () => {
  const of = { ...division, stages: [{ kind: 'double-elimination' as const, race_s: 60, lanes: 2 }], stage: 1 };
  test('count those of winners and of losers apart', () => {
    expect(roundName(of, 1, 5, 9, { part: 'winners', part_round: 3, rounds_left: 1 })).toBe('Winners’ round 3');
    expect(roundName(of, 1, 4, 9, { part: 'losers', part_round: 2, rounds_left: 3 })).toBe('Losers’ round 2');
    expect(heatName(of, { stage: 1, round: 4, number: 2, part: 'losers', part_round: 2, rounds_left: 3 })).toBe(
      'Losers’ round 2, heat 2',
    );
  });
  test('end in a final, and a second one', () => {
    expect(roundName(of, 1, 8, 9, { part_round: 1, rounds_left: 2 })).toBe('Final');
    expect(roundName(of, 1, 9, 9, { part_round: 2, rounds_left: 1 })).toBe('Second final');
  });
});

test('a heat of a group names it', () =>
  expect(
    heatName(
      { ...division, stages: [{ kind: 'groups', race_s: 60, lanes: 2 }], stage: 1 },
      { stage: 1, round: 2, number: 3, group: 'B' },
    ),
  ).toBe('Group B: Round 2, heat 3'));

test('checkCode can be compared by eye', () => expect(checkCode('b7c1615094e6bb7e9080')).toBe('b7c1 6150 94e6'));

test('racerText', () => {
  expect(racerText({ start_number: 7, display_name: 'Puffin' })).toBe('7 Puffin');
  expect(racerText({ start_number: 7 })).toBe('7');
});
