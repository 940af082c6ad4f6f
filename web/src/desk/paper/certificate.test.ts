import { describe, expect, test } from 'vitest';
import { certificatesOf } from './certificate';

const entry = (id: string, start_number: number, more = {}) => ({
  id,
  start_number,
  division: 'j',
  entrant: `p-${id}`,
  ...more,
});
const line = (entry: string, rank: number, more = {}) => ({
  rank,
  racer: { entry, start_number: 0 },
  stage: 1,
  runs: [],
  ...more,
});
const day = (published: number, standings: unknown[], more = {}) =>
  ({
    entries: [entry('a', 1), entry('b', 2), entry('c', 3)],
    people: [
      { id: 'p-a', display_name: 'Lantern', on_screen: true, in_results: true },
      { id: 'p-b', display_name: 'Puffin', on_screen: true, in_results: false },
    ],
    standings: [{ division: 'j', published, standings }],
    ...more,
  }) as never;

describe('certificates', () => {
  test('are there for everybody, with no place before the results are official', () => {
    const all = certificatesOf(day(0, [line('b', 1), line('a', 2)]), 'j');
    expect(all.map((one) => [one.number, one.place])).toEqual([
      [1, undefined],
      [2, undefined],
      [3, undefined],
    ]);
  });

  test('are by place once they are, equals sharing it, and without one for who left', () => {
    const lines = [line('b', 1), line('c', 1), line('a', 3, { status: 'withdrawn' })];
    const all = certificatesOf(day(1, lines), 'j');
    expect(all.map((one) => [one.number, one.place, one.of])).toEqual([
      [2, 1, 2],
      [3, 1, 2],
      [1, undefined, 2],
    ]);
  });

  test('name only whose family agreed to the nickname in results: that of screens is another question', () => {
    expect(certificatesOf(day(1, []), 'j').map((one) => one.name)).toEqual(['Lantern', undefined, undefined]);
  });

  test('count the races that have a distance, and name the longest', () => {
    const runs = [{ round: 1, distance_m: 230.4 }, { round: 2 }, { round: 3, distance_m: 231.9 }];
    expect(certificatesOf(day(0, [line('a', 1, { runs })]), 'j')[0]).toMatchObject({ races: 2, longestM: 231.9 });
  });

  test('of divisions that race together go by the place in their own', () => {
    const entries = [entry('a', 1, { band: 'k', division: 'j' })];
    const own = [{ division: 'k', published: 1, standings: [line('a', 5, { band: 'k', band_rank: 2 })] }];
    expect(certificatesOf(day(1, [], { entries, standings: own }), 'k')[0]?.place).toBe(2);
  });
});
