import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { bench } from '$lib/i18n/en/bench';
import { inspection } from '$lib/i18n/en/desk/inspection';
import { plan } from '$lib/i18n/en/desk/plan';
import { batteryBody, checkBody, newBattery, newCheck, packPattern } from './forms';
import { asksFor, deadlineOf, found, wants, type TableEntry } from './list';

const entry = (more: Partial<TableEntry>): TableEntry => ({
  racer: { entry: 'e1', start_number: 1 },
  division: 'junior',
  car: 'c1',
  checked_in: true,
  racing: true,
  battery: [],
  inspection: [],
  inspected: 'passed',
  tries: [],
  held: false,
  ...more,
});
const says = [{ code: 'battery-none', says: 'No battery is known for this car.' }];

describe('the list of cars', () => {
  test.each([
    ['nothing is missing', entry({}), false],
    ['a battery is missing', entry({ battery: says }), true],
    ['an inspection is missing', entry({ inspection: says }), true],
    ['it is held on the podium', entry({ held: true }), true],
    ['it takes no further part', entry({ battery: says, racing: false }), false],
  ])('%s', (_, e, wanted) => expect(wants(e)).toBe(wanted));

  test('filters', () => {
    const all = [entry({}), entry({ inspected: 'failed', inspection: says }), entry({ held: true })];
    expect((['wanted', 'all', 'late', 'held', 'passed'] as const).map((f) => found(all, f).length)).toEqual([
      2, 3, 1, 1, 2,
    ]);
  });

  test('a deadline stands only while a car has to be put right', () => {
    const tries = [{ at: '', by: '', passed: false, says: [], values: [], fix_until: '2027-04-17T10:00:00Z' }];
    expect(deadlineOf(entry({ inspected: 'failed', tries }))).toBe('2027-04-17T10:00:00Z');
    expect(deadlineOf(entry({ inspected: 'passed', tries }))).toBeUndefined();
  });

  test('a meet without checks says so', () => {
    expect(asksFor({ divisions: [] })).toBe(false);
    expect(asksFor(undefined)).toBe(false);
  });
});

describe('the forms', () => {
  const items: Schema['CheckItem'][] = [
    { id: 'mass', name: 'Weight', unit: 'g', max: 180, instrument: 'scale' },
    { id: 'loose', name: 'Nothing is loose' },
    { id: 'wires', name: 'No bare wires' },
  ];
  test('a checklist sends what was filled in, in its order, with the instrument', () => {
    const draft = newCheck(items);
    draft.answers['wires'] = 'no';
    draft.values['mass'] = 171.5;
    draft.mark = ' green ';
    expect(checkBody(draft, items)).toEqual({
      values: [
        { item: 'mass', value: 171.5, instrument: 'scale' },
        { item: 'wires', yes: false },
      ],
      fix_s: 900,
      mark: 'green',
    });
  });

  const battery: Schema['ClassBattery'] = {
    windows: [
      { chemistry: 'alkaline', cells: 2, open_v: { min: 3, max: 3.3 } },
      { chemistry: 'nickel-metal-hydride', cells: 2, open_v: { min: 2.5, max: 2.9 } },
    ],
  };
  test('a battery form begins with the kind that the pack had', () => {
    const check = {
      at: '',
      by: '',
      chemistry: 'nickel-metal-hydride',
      cells: 2,
      open_v: 2.6,
      hurt: false,
      accepted: true,
      says: [],
    };
    const pack: Schema['Pack'] = { id: 'C1', lent: true, aside: false, hurt: false, checks: [check], runs: [] };
    expect(newBattery(battery, pack, 'meter 1')).toMatchObject({
      pack: 'C1',
      chemistry: 'nickel-metal-hydride',
      cells: 2,
      instrument: 'meter 1',
    });
    expect(newBattery(battery, undefined, '')).toMatchObject({ pack: '', chemistry: 'alkaline' });
  });

  test('what was not measured is left out', () => {
    expect(batteryBody({ ...newBattery(battery, undefined, ''), open_v: 3.1 })).toEqual({
      chemistry: 'alkaline',
      cells: 2,
      open_v: 3.1,
    });
  });

  test('two loads are sent as measured', () => {
    const draft = {
      ...newBattery(battery, undefined, 'meter'),
      open_v: 3.1,
      load_v: 2.9,
      degrees: 21,
      two: true,
      v: [3.09, 2.88] as [number, number],
    };
    expect(batteryBody(draft)).toEqual({
      chemistry: 'alkaline',
      cells: 2,
      open_v: 3.1,
      load_v: 2.9,
      temperature_c: 21,
      instrument: 'meter',
      loads: [
        { ma: 5, v: 3.09 },
        { ma: 505, v: 2.88 },
      ],
    });
  });

  test('of a hurt pack nothing is sent but that it is', () => {
    expect(batteryBody({ ...newBattery(battery, undefined, ''), open_v: 3.1, hurt: true })).toEqual({
      chemistry: 'alkaline',
      cells: 2,
      open_v: 0,
      hurt: true,
    });
  });
});

test('nothing that is said at the table speaks of charging', () => {
  const all = JSON.stringify([inspection, bench.checks, plan], (_, value: unknown) =>
    typeof value === 'function' ? String(value) : value,
  );
  expect(all).toContain('swollen');
  expect(all.toLowerCase()).not.toMatch(/charg/);
});

test('the pattern of a pack number is one that browsers take, and lets no number through that is none', () => {
  // Browsers read a field's pattern with the v flag, and enforce nothing where it is not valid under it.
  const pattern = new RegExp(`^(?:${packPattern})$`, 'v');
  for (const number of ['A7', ' pack-12 ', '3.b_4']) expect(number).toMatch(pattern);
  for (const number of ['', '-3', 'A 7', 'A/7']) expect(number).not.toMatch(pattern);
});
