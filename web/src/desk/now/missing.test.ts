import { expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { looksAt, missingOf, restOf } from './missing';

const says = (code: string) => ({ code, says: code });
const table: Schema['InspectorTable'] = {
  seq: 1,
  at: '',
  battery_gate: 'warn',
  inspection_gate: 'warn',
  packs: [],
  entries: [
    {
      racer: { entry: 'e1', start_number: 1 },
      division: 'd',
      car: 'c',
      checked_in: true,
      racing: true,
      inspected: 'failed',
      tries: [],
      held: false,
      battery: [says('pack-open-low'), says('pack-tired')],
      inspection: [says('inspect-failed')],
    },
  ],
};
const lane = (more: Partial<Schema['Lane']> = {}): Schema['Lane'] => ({
  racer: { entry: 'e1', start_number: 1 },
  state: 'called',
  ...more,
});

test.each([
  [
    'both sides, one sentence each',
    lane(),
    { battery_gate: 'hold', inspection_gate: 'warn' },
    ['pack-open-low', 'inspect-failed'],
  ],
  ['what the rules look at', lane(), { inspection_gate: 'warn' }, ['inspect-failed']],
  ['nothing where they do not', lane(), {}, []],
  ['nothing of a car that an official let race', lane({ let_race: true }), { battery_gate: 'hold' }, []],
  ['nothing of a car that races', lane({ state: 'racing' }), { battery_gate: 'hold' }, []],
  [
    'nothing of a car that the table does not know',
    lane({ racer: { entry: 'e9', start_number: 9 } }),
    { battery_gate: 'hold' },
    [],
  ],
] as const)('%s', (_, of, rules, wanted) => {
  expect(missingOf(of, rules, table, 0).map((why) => why.code)).toEqual(wanted);
  expect(looksAt(rules)).toBe(Object.keys(rules).length > 0);
});

test('a car that only rests is not wanted at the table, and counts down to its time', () => {
  const until = Date.parse('2027-03-06T10:04:00Z');
  const resting = {
    ...table,
    entries: [
      { ...table.entries[0]!, inspection: [], battery: [says('pack-tired')], rests_until: '2027-03-06T10:04:00Z' },
    ],
  };
  const rules = { battery_gate: 'hold', inspection_gate: 'hold' } as const;
  expect(restOf(lane(), resting, until - 1)).toBe(until);
  expect(missingOf(lane(), rules, resting, until - 1)).toEqual([]);
  // Its list may be older than the end of its rest.
  expect(restOf(lane(), resting, until)).toBe(0);
  expect(missingOf(lane(), rules, resting, until)).toEqual([]);
  expect(restOf(lane({ let_race: true }), resting, until - 1)).toBe(0);
});
