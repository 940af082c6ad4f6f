import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { crossesOf } from './cross';

const racer = (n: number) => ({ entry: `e${n}`, start_number: n });
function heat(
  a: number,
  b: number,
  places?: [number | undefined, number | undefined],
  group?: string,
): Schema['BracketHeat'] {
  const lanes = [a, b].map((n, i) => ({
    racer: racer(n),
    state: 'done' as const,
    ...(places?.[i] !== undefined && { place: places[i] }),
  }));
  const raced = {
    id: `${a}-${b}`,
    division: 'j',
    stage: 1,
    round: 1,
    number: 1,
    phase: places ? ('official' as const) : ('drawn' as const),
    lanes,
  };
  return { id: `${a}-${b}`, slots: [{ racer: racer(a) }, { racer: racer(b) }], heat: raced, ...(group && { group }) };
}
const rounds = (...heats: Schema['BracketHeat'][]): Schema['BracketRound'][] => [
  { stage: 1, round: 1, closed: false, byes: [], heats },
];
const shape = (of: ReturnType<typeof crossesOf>) =>
  of.map((c) => [c.group, c.rows.map((r) => [r.racer.start_number, r.points, r.against.map((a) => a.join('+'))])]);

describe('crossesOf', () => {
  test('who beat whom, the best first', () =>
    expect(shape(crossesOf(rounds(heat(1, 2, [2, 1]), heat(1, 3, [1, 1]), heat(2, 3))))).toEqual([
      [
        undefined,
        [
          [2, 2, ['', 'lost', 'toCome'].map((r) => (r === 'lost' ? 'won' : r))],
          [1, 1, ['lost', '', 'drawn']],
          [3, 1, ['toCome', 'drawn', '']],
        ],
      ],
    ]));
  test('a table a group, two meetings in one cell, other points', () =>
    expect(
      shape(
        crossesOf(rounds(heat(3, 4, [1, 2], 'B'), heat(1, 2, [1, 2], 'A'), heat(2, 1, [1, 2], 'A')), {
          win: 3,
          draw: 1,
          loss: 0,
        }),
      ),
    ).toEqual([
      [
        'A',
        [
          [1, 3, ['', 'won+lost']],
          [2, 3, ['lost+won', '']],
        ],
      ],
      [
        'B',
        [
          [3, 3, ['', 'won']],
          [4, 0, ['lost', '']],
        ],
      ],
    ]));
  test('the rules of the day decide between equals', () =>
    expect(
      crossesOf(rounds(heat(1, 2, [1, 1])), undefined, (e) => (e === 'e2' ? 1 : 2))[0]!.rows.map(
        (r) => r.racer.start_number,
      ),
    ).toEqual([2, 1]));
  test('who has no place lost to who has one', () =>
    expect(crossesOf(rounds(heat(1, 2, [undefined, 1])))[0]!.rows.map((r) => r.points)).toEqual([2, 0]));
});
