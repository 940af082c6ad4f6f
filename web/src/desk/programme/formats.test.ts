import { expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { adoption, points } from './formats';

const option = (format: string, over: string, best: number, more: Partial<Schema['FormatOption']> = {}) => ({
  format,
  finish: { p10: over, p50: `2027-04-17T${over}:00Z`, p90: over },
  best_car_wins: best,
  agreement: 0.8,
  pairs_right: 9,
  runs: 3,
  runs_at_least: 3,
  longest_wait_min: 20,
  divisions: [],
  ...more,
});

test('a programme that is taken up changes the stages of divisions that are not drawn, and nothing else', () => {
  const division = (id: string, stage: number) =>
    ({
      id,
      name: `Division ${id}`,
      age_from: 6,
      age_to: 10,
      class: { name: 'Open class', lap_m: 3 },
      stages: [],
      edition: `as ${id}`,
      stage,
    }) as unknown as Schema['Division'];
  const stages: Schema['StageBody'][] = [{ kind: 'swiss', race_s: 60, lanes: 2, rounds: 5 }];
  const taken = adoption({ divisions: ['a', 'drawn', 'gone'].map((id) => ({ division: id, stages })) }, [
    division('a', 0),
    division('drawn', 1),
    division('other', 0),
  ]);
  expect(taken).toEqual([
    {
      id: 'a',
      edition: 'as a',
      body: { name: 'Division a', age_from: 6, age_to: 10, class: { name: 'Open class', lap_m: 3 }, stages },
    },
  ]);
});

test('the plot keeps what is advised against apart, each from left to right', () => {
  const options = [
    option('planned', '12:00', 0.61),
    option('knockout', '10:30', 0.4, { advised_against: 'one-race' }),
    option('swiss', '11:00', 0.555),
  ];
  expect(points({ begins: '2027-04-17T10:00:00Z', options }).map(({ advised, xs, ys }) => [advised, xs, ys])).toEqual([
    [false, [60, 120], [56, 61]],
    [true, [30], [40]],
  ]);
  expect(points({ begins: '2027-04-17T10:00:00Z', options: options.slice(0, 1) })).toHaveLength(1);
});
