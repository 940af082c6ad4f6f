import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { f } from '$lib/i18n';
import { changesOf } from './changes';
import { partsOf } from './parts';
import { columnsOf, inStage } from './stages';

type Line = Schema['Standing'];
const run = (round: number, distance_m: number, more: object = {}) => ({
  round,
  heat: `h${round}`,
  distance_m,
  ...more,
});
const line = (n: number, more: Partial<Line>): Line => ({
  rank: n,
  racer: { entry: `e${n}`, start_number: n },
  stage: 1,
  runs: [],
  ...more,
});
const division = (...kinds: Schema['StageBody']['kind'][]) =>
  ({
    id: 'j',
    name: 'Juniors',
    stage: kinds.length,
    stages: kinds.map((kind) => ({ kind, race_s: 60, lanes: 2, ...(kind === 'timed-rounds' && { rule: 'mean' }) })),
  }) as unknown as Schema['Division'];

describe('timed rounds and a knockout behind them', () => {
  const timed = { stage: 1, rank: 2, distance_m: 160, runs: [run(1, 158), run(2, 162)] };
  const table = {
    standings: [
      line(1, { stage: 2, runs: [run(1, 170), run(2, 171)], earlier: [timed] }),
      line(3, { stage: 2, exit: 'semi-final', runs: [run(1, 150)], earlier: [{ ...timed, rank: 1 }] }),
      line(5, { distance_m: 140, runs: [run(1, 139), run(2, 141)] }),
    ],
    rounds: [
      { stage: 1, round: 1 },
      { stage: 1, round: 2 },
      { stage: 2, round: 1, rounds_left: 2, part_round: 1 },
      { stage: 2, round: 2, rounds_left: 1, part_round: 2 },
    ],
  };
  test('have columns of their own, in the order of the day, with their names', () => {
    expect(columnsOf(table, division('timed-rounds', 'knockout'))).toEqual([
      {
        stage: 1,
        kind: 'timed-rounds',
        columns: [
          { key: '1.1', name: 'Race 1', round: 1 },
          { key: '1.2', name: 'Race 2', round: 2 },
          { key: '1.counts', name: 'Average', round: undefined },
        ],
      },
      {
        stage: 2,
        kind: 'knockout',
        columns: [
          { key: '2.1', name: 'Semi-finals', round: 1 },
          { key: '2.2', name: 'Final', round: 2 },
        ],
      },
    ]);
  });
  test('and the timed results of who went on', () => {
    expect(inStage(table.standings[0]!, 1)).toEqual(timed);
    expect(inStage(table.standings[2]!, 1)?.distance_m).toBe(140);
    expect(inStage(table.standings[2]!, 2)).toBeUndefined();
  });
  test('one stage alone needs no column for what it ranks by', () =>
    expect(
      columnsOf({ standings: [table.standings[2]!] }, division('timed-rounds'))[0]!.columns.map((c) => c.name),
    ).toEqual(['Race 1', 'Race 2']));
});

describe('groups', () => {
  const of = (n: number, group: string, group_place: number, rank: number) =>
    line(n, { rank, group, group_place, points: 4 - group_place, decided_by: 'points' });
  const lines = [of(1, 'B', 1, 1), of(2, 'A', 1, 1), of(3, 'A', 2, 3), of(4, 'B', 2, 3)];
  test('are ranked apart, each from its first place on', () => {
    expect(partsOf(lines, String).map((p) => [p.title, p.lines.map((l) => [l.racer.start_number, l.rank])])).toEqual([
      ['Group A', [[2, 1], [3, 2]]], // prettier-ignore
      ['Group B', [[1, 1], [4, 2]]], // prettier-ignore
    ]);
  });
  test('are no parts any more once a knockout follows', () => {
    const after = [line(9, { stage: 2 }), ...lines];
    expect(partsOf(after, (stage) => `stage ${stage}`).map((p) => p.title)).toEqual(['stage 2', 'stage 1']);
  });
});

test('what was taken off stands with a figure, and each correction with number and time', () => {
  const [before, after] = ['2027-04-17T10:02:00Z', '2027-04-17T10:14:30Z'];
  const figure = { penalty_m: 10, corrections: [{ number: 4, at: after }] };
  const says = `Correction 4, ${f.time(after)}`;
  expect(changesOf({}, before)).toEqual([]);
  expect(changesOf(figure, undefined)).toEqual(['10 m penalty', says]);
  expect(changesOf(figure, '2027-04-17T10:20:00Z')).toEqual(['10 m penalty', says]);
  // What came after the table was published is not official yet.
  expect(changesOf(figure, before)).toEqual(['10 m penalty', `${says}, not official yet`]);
});
