import { describe, expect, test } from 'vitest';
import { countsOf, found, nextNumber, sharers, type Entry, type Filter } from './list';

const entry = (start_number: number, over: Partial<Entry> = {}): Entry => ({
  id: `e${start_number}`,
  division: 'j',
  start_number,
  car: `c${start_number}`,
  checked_in: false,
  races_up: false,
  late: false,
  withdrawn: false,
  disqualified: false,
  reruns: 0,
  ...over,
});
const entries = [
  entry(12, { display_name: 'Turbot', name: 'Ada Quay', checked_in: true }),
  entry(2, { display_name: 'Comet', car: 'c7' }),
  entry(7, { division: 's', name: 'Turner Reef' }),
  entry(9, { withdrawn: true, checked_in: true }),
];

describe('found', () => {
  const cases: [name: string, search: string, division: string, filter: Filter, want: number[]][] = [
    ['all by number', '', '', 'all', [2, 7, 9, 12]],
    ['a number as a whole', '2', '', 'all', [2]],
    ['part of a nickname or name', ' tur', '', 'all', [7, 12]],
    ['one division', '', 's', 'all', [7]],
    ['not checked in', '', '', 'missing', [2, 7]],
    ['sharing a car', '', '', 'shared', [2, 7]],
    ['out', '', '', 'out', [9]],
  ];
  test.each(cases)('%s', (_, search, division, filter, want) => {
    expect(found(entries, search, division, filter).map((e) => e.start_number)).toEqual(want);
  });
});

test('siblings who share a car see each other', () => {
  const shared = sharers(entries);
  expect(shared.get('e2')).toEqual([7]);
  expect(shared.get('e12')).toEqual([]);
});

test('the next number is above all', () => {
  expect(nextNumber(entries)).toBe(13);
  expect(nextNumber([])).toBe(1);
});

test('who is out is not counted', () => expect(countsOf(entries, 'j')).toEqual({ entered: 2, there: 1 }));
