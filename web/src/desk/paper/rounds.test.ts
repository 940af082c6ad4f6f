import { expect, test } from 'vitest';
import { drawOf, nextRounds, postedRounds, roundsOf } from './rounds';

const lane = (entry: string, state = 'waiting') => ({ racer: { entry, start_number: 1 }, state });
const heat = (division: string, round: number, number: number, phase: string, more = {}) => ({
  id: `${division}-${round}-${number}`,
  division,
  stage: 1,
  round,
  number,
  phase,
  lanes: [lane(`${division}${number}`, phase === 'drawn' ? 'waiting' : 'done')],
  ...more,
});
const meet = { divisions: [{ id: 'b' }, { id: 'a' }] } as never;
const rounds = (heats: unknown[]) => roundsOf(meet, heats as never);

test('rounds stand as the plan has the divisions, their heats as they are raced', () => {
  const all = rounds([
    heat('a', 1, 2, 'drawn'),
    heat('b', 2, 1, 'drawn'),
    heat('a', 1, 1, 'drawn'),
    heat('b', 1, 1, 'official'),
  ]);
  expect(all.map((r) => [r.key, r.heats.map((h) => h.number)])).toEqual([
    ['b.1.1', [1]],
    ['b.1.2', [1]],
    ['a.1.1', [1, 2]],
  ]);
});

test('of each division the first round in which somebody has still to race is next', () => {
  const all = rounds([
    heat('b', 1, 1, 'official'),
    heat('b', 2, 1, 'provisional'),
    heat('b', 2, 2, 'drawn'),
    heat('b', 3, 1, 'drawn'),
    heat('a', 1, 1, 'racing'),
  ]);
  expect(nextRounds(all).map((r) => r.key)).toEqual(['b.1.2']);
});

test('the newest posted round comes first', () => {
  const all = rounds([
    heat('b', 1, 1, 'official', { posted: '2027-04-17T09:00:00Z' }),
    heat('a', 1, 1, 'provisional', { posted: '2027-04-17T10:00:00Z' }),
    heat('b', 2, 1, 'drawn'),
  ]);
  expect(postedRounds(all).map((r) => r.key)).toEqual(['a.1.1', 'b.1.1']);
});

test('a draw is another one when a car or a planned bench is, and the same one while it is raced', () => {
  const of = (more: object) => drawOf(rounds([heat('a', 1, 1, 'drawn', more)])[0]!);
  expect(of({ phase: 'called' })).toBe(of({}));
  expect(of({ lanes: [lane('other')] })).not.toBe(of({}));
  expect(of({ lanes: [{ ...lane('a1'), planned_bench: 2 }] })).not.toBe(of({}));
});
