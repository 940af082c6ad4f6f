import { describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import * as day from './day';
import * as division from './division';
import * as rules from './rules';
import { freeItem } from './table';

describe('rules', () => {
  test('go through the form unchanged', () => {
    expect(rules.bodyOf(rules.draftOf(rules.usualRules()))).toEqual(rules.usualRules());
  });

  test('a gate goes through the form unchanged', () => {
    const gated = { ...rules.usualRules(), battery_gate: 'hold' as const, inspection_gate: 'warn' as const };
    expect(rules.bodyOf(rules.draftOf(gated))).toEqual(gated);
  });

  test('a promise of races goes through the form, and none is left out', () => {
    const promising = { ...rules.usualRules(), runs_at_least: 3 };
    expect(rules.bodyOf(rules.draftOf(promising))).toEqual(promising);
    expect(rules.bodyOf({ ...rules.draftOf(promising), runs_at_least: null })).toEqual(rules.usualRules());
  });

  test('an incident without a rule is left out', () => {
    const draft = rules.draftOf({
      ...rules.usualRules(),
      incidents: [{ incident: 'stalled', consequence: 'did-not-finish' }],
    });
    expect(draft.incidents['off-rollers']).toBe('');
    expect(rules.bodyOf(draft).incidents).toEqual([{ incident: 'stalled', consequence: 'did-not-finish' }]);
  });
});

test('a day goes through the form unchanged, and what is empty is left out', () => {
  const plan = {
    name: 'Spring',
    date: '2027-04-17',
    opens: '09:00',
    packing_min: 30,
    prizes_min: 0,
    time_zone: 'Europe/Oslo',
  };
  expect(day.bodyOf(day.draftOf(plan), plan.time_zone)).toEqual(plan);
  expect(day.bodyOf({ ...day.newDay(), name: ' A ', date: '2027-04-17' }, undefined)).toEqual({
    name: 'A',
    date: '2027-04-17',
  });
});

/** saved is a division as the server gives it back. */
const saved = (body: Schema['DivisionBody']): Schema['Division'] => ({
  ...body,
  id: 'j',
  entries_closed: false,
  stage: 0,
  round: 0,
  rounds_total: 0,
  round_closed: false,
  published: 0,
  outdated: false,
});

describe('divisions', () => {
  test('the template of both: rounds for all, a knockout of two lanes for the best', () => {
    const body = division.bodyOf({ ...division.newDivision(''), name: ' Juniors ', class_name: 'Open', age_to: 10 });
    expect(body).toEqual({
      name: 'Juniors',
      age_from: 6,
      age_to: 10,
      class: { name: 'Open', lap_m: 1, cells: 2 },
      stages: [
        { kind: 'timed-rounds', race_s: 60, lanes: 4, rounds: 3, rule: 'best' },
        { kind: 'knockout', race_s: 60, entries: 8, lanes: 2, third_place: true },
      ],
    });
  });

  test('a first stage takes all, and a knockout never has more than two lanes', () => {
    const stage = { ...division.newStage(), lanes: 8, rounds: 5 };
    const body = division.bodyOf({ ...division.newDivision(''), stages: [stage] });
    expect(body.stages).toEqual([{ kind: 'knockout', race_s: 60, lanes: 2, third_place: true }]);
  });

  const forms: Schema['StageBody'][] = [
    { kind: 'double-elimination', race_s: 30, lanes: 2 },
    { kind: 'round-robin', race_s: 30, lanes: 2, cycles: 2, points: { win: 3, draw: 1, loss: 0 } },
    { kind: 'swiss', race_s: 30, lanes: 2, rounds: 5, late: 'no', tie_breaks: ['buchholz', 'direct'] },
    {
      kind: 'points-rounds',
      race_s: 30,
      lanes: 6,
      rounds: 4,
      lane_design: true,
      place_points: [5, 3, 0],
      tie_breaks: ['wins'],
    },
    { kind: 'knockout', race_s: 30, lanes: 2, third_place: false, plate: true, legs: 2 },
    { kind: 'heats', race_s: 30, lanes: 6, heat_order: 'circle', advance: 2, b_final: true, heats: 4, next_best: 2 },
    { kind: 'groups', race_s: 30, lanes: 2, groups: 4, cycles: 1 },
    { kind: 'knockout', race_s: 30, lanes: 2, third_place: false, seeding: 'hand', seeds: 4, separate_clubs: true },
  ];
  test.each(forms)('a stage of $kind goes through the form unchanged', (stage) => {
    const body = { ...division.bodyOf(division.newDivision('')), stages: [stage] };
    expect(division.bodyOf(division.draftOf(saved(body))).stages).toEqual([stage]);
  });

  test('what a class asks for at the table goes through the form unchanged', () => {
    const body = division.bodyOf(division.newDivision(''));
    const battery: Schema['ClassBattery'] = {
      aside_after: 3,
      windows: [
        {
          chemistry: 'alkaline',
          cells: 2,
          open_v: { min: 3, max: 3.3 },
          load_v: { min: 2.7, max: 3.2 },
          resistance_max_mohm: 800,
          temperature_c: { min: -5, max: 35 },
          valid_s: 7200,
          rest_s: 300,
        },
        { chemistry: 'nickel-metal-hydride', cells: 2, open_v: { min: 2.5, max: 2.9 } },
      ],
    };
    const checklist: Schema['CheckItem'][] = [
      { id: 'mass', name: 'Weight', unit: 'g', max: 180, instrument: 'scale' },
      { id: 'guard', name: 'The guard sits tight' },
    ];
    const sent = { ...body, class: { ...body.class, battery, checklist } };
    expect(division.bodyOf(division.draftOf(saved(sent)))).toEqual(sent);
  });

  test('a new line of the checklist has an id of its own', () => {
    const item = { name: '', unit: '' as const, min: null, max: null, instrument: '' };
    expect(
      freeItem([
        { ...item, id: 'item-1' },
        { ...item, id: 'mass' },
      ]),
    ).toBe('item-2');
  });

  test('who can race together: one class, nothing drawn, everybody by themselves', () => {
    const body = division.bodyOf({ ...division.newDivision(''), name: 'J', class_name: 'Open' });
    const one = (id: string, more: Partial<Schema['Division']> = {}) => ({ ...saved(body), id, ...more });
    const all = [
      one('a'),
      one('b'),
      one('drawn', { stage: 1 }),
      one('away', { merged_into: 'host' }),
      one('host', { merged: ['away'] }),
      one('other', { class: { ...body.class, cells: 4 } }),
    ];
    expect(division.mergeable(all[0]!, all).map((d) => d.id)).toEqual(['b']);
    expect(division.mergeable(all[4]!, all).map((d) => d.id)).toEqual(['a', 'b']);
    expect(division.mergeable(all[2]!, all)).toEqual([]);
    expect(division.mergeable(all[3]!, all)).toEqual([]);
  });

  test('a division goes through the form unchanged', () => {
    const incidents = { ...division.newDivision('').incidents, stalled: 'rerun-lane' as const };
    const body = division.bodyOf({
      ...division.newDivision('Let go'),
      name: 'J',
      class_name: 'Open',
      wheel_mm: 26,
      incidents,
    });
    expect(body.class.incidents).toEqual([{ incident: 'stalled', consequence: 'rerun-lane' }]);
    expect(division.bodyOf(division.draftOf(saved(body)))).toEqual(body);
  });
});
