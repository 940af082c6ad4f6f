import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { Asking } from './asking.svelte';
import { bodyOf } from './draft';
import { entryKinds, laneKinds, needs, runKinds } from './kinds';

type Lane = Schema['Lane'];
const lane = (over: Partial<Lane>): Lane => ({ racer: { entry: 'e1', start_number: 1 }, state: 'done', ...over });
const other: Lane = { racer: { entry: 'e2', start_number: 2 }, state: 'done', run: 'r2' };
const heat = (...lanes: Lane[]): Schema['Heat'] => ({
  id: 'h',
  division: 'd',
  stage: 1,
  round: 1,
  number: 1,
  phase: 'provisional',
  lanes,
});

describe('laneKinds', () => {
  const cases: [name: string, lane: Lane, has: string[], hasNot: string[]][] = [
    [
      'raced',
      lane({ run: 'r1' }),
      ['grant-rerun', 'reassign', 'swap', 'did-not-finish', 'penalise'],
      ['lift', 'did-not-start', 'turn-down-rerun'],
    ],
    ['asked for a re-run', lane({ run: 'r1', rerun_asked: 'power' }), ['grant-rerun', 'turn-down-rerun'], []],
    [
      'called',
      lane({ state: 'called' }),
      ['did-not-start', 'disqualify-heat'],
      ['grant-rerun', 'reassign', 'penalise'],
    ],
    ['racing', lane({ state: 'racing' }), ['grant-rerun', 'did-not-finish'], ['did-not-start', 'reassign']],
    ['did not start', lane({ status: 'did-not-start' }), ['lift'], ['did-not-start', 'did-not-finish']],
  ];
  test.each(cases)('%s', (_, l, has, hasNot) => {
    const kinds = laneKinds(heat(l, other), l);
    expect(kinds).toEqual(expect.arrayContaining(has));
    expect(kinds.filter((k) => hasNot.includes(k))).toEqual([]);
  });

  test('lanes are swapped only with one that raced', () => {
    const l = lane({ run: 'r1' });
    expect(laneKinds(heat(l), l)).not.toContain('swap');
  });
});

test('runs and entries offer what their state allows', () => {
  const run = { id: 'r', bench: 'b', source: 'bench', at: '', figures: {} } as Schema['Run'];
  expect(runKinds({ ...run, waiting: 'lane-taken' })).toEqual(['accept-run', 'set-aside']);
  expect(runKinds({ ...run, counts: true })).toEqual(['reassign']);
  expect(runKinds({ ...run, void: true })).toEqual([]);
  expect(entryKinds({ withdrawn: true, disqualified: false })).toContain('reinstate');
});

describe('the draft of a ruling', () => {
  test('sends just what its kind needs', () => {
    const asking = new Asking();
    asking.start({ kinds: ['penalise', 'void'], heat: 'h', entry: 'e1', run: 'r1' });
    asking.draft.penalty_m = 2.5;
    asking.draft.reason.text = '  left too soon ';
    expect(bodyOf(asking.draft)).toEqual({
      kind: 'penalise',
      heat: 'h',
      entry: 'e1',
      penalty_m: 2.5,
      reason: { code: 'false-start', text: 'left too soon' },
    });
  });

  test('another kind brings its usual reason, but not over a chosen one', () => {
    const asking = new Asking();
    asking.start({ kinds: ['grant-rerun', 'did-not-start'], heat: 'h', entry: 'e1' });
    asking.choose('did-not-start');
    expect(asking.draft.reason.code).toBe('not-there');
    asking.draft.reason.code = 'conduct';
    asking.choose('grant-rerun');
    expect(asking.draft.reason.code).toBe('conduct');
  });

  test('every kind has its needs', () => expect(Object.keys(needs)).toHaveLength(20));
});
