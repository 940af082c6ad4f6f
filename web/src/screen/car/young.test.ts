import type { RaceLine } from '$lib/run/reckon';
import { expect, test } from 'vitest';
import { reckonWith, youngSum } from './young';

test('metres are shared out among the seconds as a child does it', () => {
  // 20 × 11 = 220, and 17 of 237 are left: more than half of 20.
  expect(youngSum(236.6, 20)).toEqual({ metres: 237, seconds: 20, each: 11, left: 17, nearness: 'nearly' });
  expect(youngSum(224.4, 20.01)).toEqual({ metres: 224, seconds: 20, each: 11, left: 4, nearness: 'more' });
  expect(youngSum(230, 20)).toEqual({ metres: 230, seconds: 20, each: 11, left: 10, nearness: 'half' });
  expect(youngSum(220, 20)).toEqual({ metres: 220, seconds: 20, each: 11, left: 0, nearness: 'exactly' });
});

test('what is not of whole seconds, or slower than a metre a second, is no sum for the young', () => {
  expect(youngSum(100, 12.3)).toBeUndefined();
  expect(youngSum(100, 0)).toBeUndefined();
  expect(youngSum(4, 1)).toBeUndefined();
  expect(youngSum(15, 20)).toBeUndefined();
});

test('the furthest race of whole seconds is reckoned with, whatever a ruling took off', () => {
  const race = (id: string, distance_m: number, time_s: number, source: 'bench' | 'hand' = 'bench', corrected = 1) =>
    ({
      run: { id, at: id, source, figures: { distance_m, time_s, laps: 1 } },
      lane: undefined,
      corrected,
    }) as unknown as RaceLine;
  const races = [
    race('a', 236, 20),
    race('b', 260, 20, 'bench', 1.1),
    race('c', 300, 20, 'hand'),
    race('d', 250, 17.4),
  ];
  // 260 read by a bench that reads a tenth too much are 236.4, and so not further than a.
  expect(reckonWith(races, 3)?.race.run.id).toBe('a');
  expect(reckonWith([...races, race('e', 250, 20)], 3)?.sum).toMatchObject({ metres: 250, each: 12, left: 10 });
  expect(reckonWith([], 3)).toBeUndefined();
});
