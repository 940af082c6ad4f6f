import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { checkCode, forPhones, heatName, roundName } from './names';

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

test('checkCode can be compared by eye', () => expect(checkCode('b7c1615094e6bb7e9080')).toBe('b7c1 6150 94e6'));

describe('forPhones', () => {
  const addresses = ['http://192.0.2.7:8080', 'http://127.0.0.1:8080'];
  test('this page\'s own address', () => expect(forPhones('http://meet.example', addresses)).toBe('meet.example'));
  test('not one that only this machine knows', () => expect(forPhones('http://localhost:8080', addresses)).toBe('192.0.2.7:8080'));
  test('or none', () => expect(forPhones('http://127.0.0.1:8080', ['http://127.0.0.1:8080'])).toBeUndefined());
});
