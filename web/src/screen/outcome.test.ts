import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { inHeat } from '$lib/names';
import { notes, outcome, placeOf, settled } from './outcome';

const line = (more: Partial<Schema['Standing']>): Schema['Standing'] => ({
  rank: 1,
  racer: { entry: 'e', start_number: 7 },
  stage: 1,
  runs: [],
  ...more,
});

describe('outcome and place', () => {
  const cases: [name: string, line: Schema['Standing'], final: boolean, words: string, place: number | undefined][] = [
    ['left', line({ status: 'withdrawn', rank: 5, distance_m: 3 }), false, 'Races no more', 5],
    ['out of a knockout', line({ exit: 'semi-final', rank: 3 }), false, 'out in the semi-final', 3],
    ['still in a knockout', line({ rank: 1 }), false, 'still racing', undefined],
    ['winner', line({ rank: 1 }), true, 'winner', 1],
    ['points', line({ rank: 2, points: 1 }), false, '1 point', 2],
    ['no run yet', line({ rank: 0 }), false, 'No result yet.', undefined],
  ];
  test.each(cases)('%s', (_, of, final, words, place) => {
    expect(outcome(of, final)).toEqual({ words });
    expect(placeOf(of, final)).toBe(place);
  });

  test('a distance has the digits that its uncertainty allows', () => {
    const timed = line({ distance_m: 236.6912, u_distance_m: 0.12, rank: 2 });
    expect(outcome(timed, false)).toEqual({ distance: { value: '236.7', plusMinus: '0.3' } });
    expect(placeOf(timed, false)).toBe(2);
  });
});

test('notes say what is not plain', () => {
  expect(notes(line({ decided_by: 'result' }))).toEqual([]);
  expect(notes(line({ decided_by: 'next-best', too_close_to: [3, 9] }))).toEqual([
    'by the next-best run',
    'too close to numbers 3 and 9 to tell',
  ]);
});

test('notes say how far a car came beside its distance, and its place in the plate', () => {
  expect(notes(line({ exit: 'b-final', distance_m: 300, rank: 5 }))).toEqual(['in the B-final']);
  expect(notes(line({ exit: 'round-of-8', plate_rank: 2, rank: 5 }))).toEqual(['2nd in the plate']);
});

test('notes say the place in a division that races together with others', () => {
  expect(notes(line({ band: 'mini', band_name: 'Minis', band_rank: 2, rank: 5 }))).toEqual(['2nd of Minis']);
});

describe('the winner of a final', () => {
  const semi = [line({ exit: 'semi-final', rank: 3 }), line({ exit: 'semi-final', rank: 3 })];
  const table = (standings: Schema['Standing'][], final = false) => ({ final, standings });

  test('is first as soon as nobody else is left, and provisional until the programme is through', () => {
    const won = settled(table([line({}), line({ exit: 'final', rank: 2 }), ...semi]));
    expect(won).toBe(true);
    expect(outcome(line({}), won, false)).toEqual({ words: 'winner, may still change' });
    expect(outcome(line({}), true, true)).toEqual({ words: 'winner' });
    expect(placeOf(line({}), won)).toBe(1);
  });
  test('is not known while two are left', () => {
    expect(settled(table([line({}), line({}), ...semi]))).toBe(false);
  });
  test('is known where all others have left the division', () => {
    const gone = line({ status: 'withdrawn', rank: 4 });
    expect(settled(table([line({}), line({ exit: 'final', rank: 2 }), gone]))).toBe(true);
  });
  test('is not asked of distances, or of who waits for the first race', () => {
    expect(settled(table([line({ distance_m: 5 }), line({ distance_m: 4, rank: 2 })]))).toBe(false);
    expect(settled(table([line({})]))).toBe(false);
    expect(settled(table([line({ rank: 0 }), line({ rank: 0 })]))).toBe(false);
  });
});

test('who wins the race for third place is third', () => {
  expect([1, 2].map((place) => inHeat({ third_place: true }, place))).toEqual([3, 4]);
  expect([1, 2].map((place) => inHeat({}, place))).toEqual([1, 2]);
});
