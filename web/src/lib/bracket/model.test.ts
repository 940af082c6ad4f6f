import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { spoken } from '$lib/i18n';
import { heatWords, partsOf, short } from './model';

await spoken();

type Slot = Schema['BracketSlot'];
const division = {
  id: 'j',
  name: 'Juniors',
  stage: 1,
  rounds_total: 2,
  stages: [{ kind: 'knockout', race_s: 60, lanes: 2 }],
} as unknown as Schema['Division'];
const racer = (n: number): Slot => ({ racer: { entry: `e${n}`, start_number: n, display_name: `Nick ${n}` } });

function heat(id: string, slots: Slot[], winner?: number): Schema['BracketHeat'] {
  const lanes = slots.flatMap((s) =>
    s.racer
      ? [
          {
            racer: s.racer,
            state: 'done' as const,
            distance_m: 600 + s.racer.start_number,
            u_distance_m: 0.4,
            place: s.racer.start_number === winner ? 1 : 2,
          },
        ]
      : [],
  );
  const raced = {
    id,
    division: 'j',
    stage: 1,
    round: 1,
    number: 1,
    phase: winner === undefined ? ('drawn' as const) : ('official' as const),
    lanes,
  };
  return { id, slots, ...(lanes.length > 0 && { heat: raced }) };
}

const round = (
  n: number,
  heats: Schema['BracketHeat'][],
  more: Partial<Schema['BracketRound']> = {},
): Schema['BracketRound'] => ({ stage: 1, round: n, closed: false, byes: [], heats, ...more });

test('short of an id', () => expect(short('junior-2.1.13')).toBe('1.13'));

describe('a knockout', () => {
  const rounds = [
    round(1, [heat('j-1.1.1', [racer(1), racer(4)], 1), heat('j-1.1.2', [racer(3), racer(2)], 2)], { rounds_left: 2 }),
    round(
      2,
      [
        { ...heat('j-1.2.2', [{ loser_of: 'j-1.1.1' }, { loser_of: 'j-1.1.2' }]), third_place: true },
        heat('j-1.2.1', [racer(1), { winner_of: 'j-1.1.2' }]),
      ],
      { rounds_left: 1 },
    ),
  ];
  const [main, ...others] = partsOf(division, rounds);

  test('is one part, with the race for third place below', () => {
    expect(others).toEqual([]);
    expect(main!.columns.map((c) => c.map((h) => h.id))).toEqual([
      ['j-1.1.1', 'j-1.1.2'],
      ['j-1.2.1', 'j-1.2.2'],
    ]);
    expect([...main!.titles.values()]).toEqual(['Semi-finals', 'Semi-finals', 'Final', 'Final']);
  });
  test('lines come from where a racer raced before, or will come from', () => {
    expect(main!.columns[1]!.map((h) => h.sources)).toEqual([
      ['j-1.1.1', 'j-1.1.2'],
      [undefined, undefined],
    ]);
  });
  test('winners are marked, and open places say who comes', () => {
    expect(main!.columns[0]![0]!.slots.map((s) => [s.won, s.lost])).toEqual([
      [true, false],
      [false, true],
    ]);
    expect(main!.columns[1]![0]!.slots[1]!.open).toBe('Winner of 1.2');
  });
  test('in words', () => {
    expect(heatWords(main!.columns[0]![0]!)).toBe('Heat 1.1: 1 Nick 1, won, 601.0 m; 4 Nick 4, 604.0 m');
    expect(heatWords(main!.columns[1]![1]!)).toBe('Heat 2.2, Race for third place: Loser of 1.1; Loser of 1.2');
  });
});

test('a double elimination has winners, losers and finals; who drops down has no line', () => {
  const rounds = [
    round(1, [heat('j-1.1.1', [racer(1), racer(4)], 1), heat('j-1.1.2', [racer(3), racer(2)], 2)], {
      part: 'winners',
      part_round: 1,
    }),
    round(2, [heat('j-1.2.1', [racer(4), racer(3)], 3)], { part: 'losers', part_round: 1 }),
    round(3, [heat('j-1.3.1', [racer(1), racer(2)], 1)], { part: 'winners', part_round: 2 }),
    round(4, [heat('j-1.4.1', [racer(3), { loser_of: 'j-1.3.1' }])], { part: 'losers', part_round: 2 }),
    round(5, [heat('j-1.5.1', [{ winner_of: 'j-1.3.1' }, { winner_of: 'j-1.4.1' }])], {
      part_round: 1,
      rounds_left: 2,
    }),
    round(6, [{ ...heat('j-1.6.1', [{ winner_of: 'j-1.5.1' }, { loser_of: 'j-1.5.1' }]), if_needed: true }], {
      part_round: 2,
      rounds_left: 1,
    }),
  ];
  const parts = partsOf({ ...division, stages: [{ kind: 'double-elimination', race_s: 60, lanes: 2 }] }, rounds);
  expect(parts.map((p) => [p.part, p.columns.map((c) => c.map((h) => h.short))])).toEqual([
    ['winners', [['W1.1', 'W1.2'], ['W2.1']]],
    ['losers', [['L1.1'], ['L2.1']]],
    ['finals', [['Final'], ['Second final']]],
  ]);
  expect(parts.map((p) => [...p.titles.values()])).toEqual([
    ['Round 1', 'Round 1', 'Round 2'],
    ['Round 1', 'Round 2'],
    ['Final', 'Second final'],
  ]);
  // No heat stands in two pictures.
  const shown = parts.flatMap((p) => p.columns.flat().map((h) => h.id));
  expect(new Set(shown).size).toBe(shown.length);
  expect(parts[1]!.columns[0]![0]!.sources).toEqual([undefined, undefined]);
  expect(parts[1]!.columns[1]![0]!.sources).toEqual(['j-1.2.1', undefined]);
  expect(parts[1]!.columns[1]![0]!.slots[1]!.open).toBe('Loser of W2.1');
  expect(parts[2]!.columns[0]![0]!.slots.map((slot) => slot.open)).toEqual(['Winner of W2.1', 'Winner of L2.1']);
  expect(heatWords(parts[0]!.columns[0]![0]!)).toMatch(/^Heat W1\.1: /);
  expect(heatWords(parts[2]!.columns[1]![0]!)).toMatch(/^Second final, raced only if needed: Winner of Final; /);
});

test('the legs of two are one heat, and who won more of them goes on', () => {
  const leg = (n: number, winner?: number) => ({
    ...heat(n === 1 ? 'j-1.1.1' : `j-1.1.1.${n}`, [racer(1), racer(4)], winner),
    number: 1,
    leg: n,
  });
  const of = (...legs: Schema['BracketHeat'][]) =>
    partsOf(division, [round(1, legs)])[0]!.columns[0]!.map((h) => h.slots.map((s) => [s.won, s.lost, s.figure]));
  expect(of(leg(1, 1), leg(2, 1))).toEqual([
    [
      [true, false, '2 legs'],
      [false, true, '0 legs'],
    ],
  ]);
  expect(of(leg(1, 1), leg(2, 4))).toEqual([
    [
      [false, false, '1 leg'],
      [false, false, '1 leg'],
    ],
  ]);
  expect(of(leg(1, 1), leg(2, 4), leg(3, 4))).toEqual([
    [
      [false, true, '1 leg'],
      [true, false, '2 legs'],
    ],
  ]);
});

test('who stands alone goes on', () => {
  const [main] = partsOf(division, [round(1, [heat('j-1.1.1', [racer(1), { nobody: true }], 1)])]);
  expect(main!.columns[0]![0]!.slots.map((s) => [s.won, s.open])).toEqual([
    [true, undefined],
    [false, 'Nobody'],
  ]);
});
