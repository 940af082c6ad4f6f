import { expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { points, stateOf } from './packs';

const check = (more: Partial<Schema['PackCheck']>): Schema['PackCheck'] => ({
  at: '',
  by: '',
  chemistry: 'alkaline',
  cells: 2,
  open_v: 3.1,
  hurt: false,
  accepted: true,
  says: [],
  ...more,
});
const pack = (id: string, checks: Schema['PackCheck'][], more: Partial<Schema['Pack']> = {}): Schema['Pack'] => ({
  id,
  lent: false,
  aside: false,
  hurt: false,
  checks,
  runs: [],
  ...more,
});

test.each([
  ['unmeasured', pack('a', [])],
  ['mayRace', pack('a', [check({ accepted: false }), check({})])],
  ['refused', pack('a', [check({}), check({ accepted: false })])],
  ['aside', pack('a', [check({ accepted: false })], { aside: true })],
  ['hurt', pack('a', [check({})], { aside: true, hurt: true })],
] as const)('a pack is %s', (state, one) => expect(stateOf(one)).toBe(state));

test('the picture has the last check with a resistance of every pack, by volts', () => {
  const packs = [
    pack('b', [check({ open_v: 3.2, resistance_mohm: 400 }), check({ open_v: 3.1 })]),
    pack('a', [check({ open_v: 2.9, resistance_mohm: 500 })]),
    pack('c', [check({ open_v: 3 })]),
  ];
  expect(points(packs).map((p) => [p.pack, p.volts, p.mohm])).toEqual([
    ['a', 2.9, 500],
    ['b', 3.2, 400],
  ]);
});
