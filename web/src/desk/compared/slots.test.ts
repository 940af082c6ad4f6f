import { expect, test } from 'vitest';
import { criticalLines, disagreeing, factorRows } from './figures';
import { slotsOf } from './slots';
import type { Schema } from '$lib/api';

const run = (slot: number, number: number, made?: string) => ({
  slot,
  bench: `b${number}`,
  number,
  car_number: 91,
  ...(made && { run: made }),
});

test('the first slot with a run left is the one to run now', () => {
  const slots = slotsOf([run(2, 3), run(1, 1, 'r1'), run(1, 2, 'r2'), run(2, 4, 'r4'), run(3, 1)]);
  expect(slots.map((s) => [s.number, s.state, s.runs.length])).toEqual([
    [1, 'done', 2],
    [2, 'now', 2],
    [3, 'to come', 1],
  ]);
});

test('a dropped run brings its slot back', () => {
  expect(slotsOf([run(1, 1), run(2, 2, 'r2')]).map((s) => s.state)).toEqual(['now', 'done']);
});

test('figures of the benches', () => {
  const bench = (number: number, over: Partial<Schema['ComparedBench']>): Schema['ComparedBench'] => ({
    bench: `b${number}`,
    number,
    out_of_service: false,
    runs: 4,
    races: 4,
    since_good: 0,
    says: [],
    in_doubt: [],
    ...over,
  });
  const c = {
    benches: [
      bench(1, { factor: 1.02, low: 1.01, high: 1.03, verdict: 'reads high' }),
      bench(2, { verdict: 'agrees' }),
      bench(3, { verdict: 'noisy', out_of_service: true }),
    ],
  } as Schema['BenchComparison'];
  expect(factorRows(c)).toEqual([
    { bench: 1, value: expect.closeTo(2), low: expect.closeTo(1), high: expect.closeTo(3) },
  ]);
  expect(disagreeing(c).map((b) => b.number)).toEqual([1]);
  expect(criticalLines(1.5, 2, true).map((l) => l.at)).toEqual([0, 1.5, 2, -1.5, -2]);
  expect(criticalLines(1.5, undefined, false).map((l) => [l.at, l.kind])).toEqual([[1.5, 'inner']]);
});
