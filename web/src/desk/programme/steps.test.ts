import { expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { stepsOf } from './steps';

const stages: Schema['StageBody'][] = [
  { kind: 'timed-rounds', rounds: 2, race_s: 20, lanes: 4 },
  { kind: 'knockout', race_s: 20, lanes: 2 },
];
const at = (over: object) => ({
  stages,
  entries_closed: true,
  stage: 1,
  round: 1,
  rounds_total: 2,
  round_closed: false,
  ...over,
});

test.each([
  ['entries open', at({ entries_closed: false, stage: 0, round: 0 }), []],
  ['entries closed', at({ stage: 0, round: 0 }), ['draw']],
  ['a round is raced', at({}), ['close', 'drawAgain']],
  ['a round is closed', at({ round_closed: true }), ['draw', 'end']],
  ['a stage is through', at({ round: 2, round_closed: true }), ['draw', 'end']],
  ['ended early', at({ round_closed: true, ended_early: true }), ['publish']],
  ['the programme is through', at({ stage: 2, round: 2, round_closed: true }), ['publish']],
])('%s', (_, division, want) => {
  expect(Object.entries(stepsOf(division)).flatMap(([step, ready]) => (ready ? [step] : []))).toEqual(want);
});
