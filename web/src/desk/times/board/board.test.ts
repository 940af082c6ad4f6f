import { expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { against, conflicts } from './against';
import { frameOf, tasksOf, ticksOf } from './frame';
import { beforeAt, items, preview, reordered, spans, waits, walk } from './items';

const at = (time: string) => `2027-04-17T${time}:00Z`;
const ms = (time: string) => Date.parse(at(time));
const benches = ['b1', 'b2', 'b3', 'b4'].map((id) => ({ id, out_of_service: false }));

function heat(
  id: string,
  from: string,
  until: string,
  on: string[],
  more: Partial<Schema['PlanHeat']> = {},
): Schema['PlanHeat'] {
  return {
    heat: id,
    division: 'a',
    stage: 1,
    round: 1,
    number: 1,
    phase: 'drawn',
    benches: [],
    ahead: 0,
    cars: on.map((_, n) => ({ entry: `${id}-${n}`, start_number: n + 1 })),
    likely: at(from),
    until: at(until),
    likely_on: on,
    ...more,
  };
}

const plan = {
  heats: [
    heat('racing', '10:00', '10:05', ['b1', 'b2'], { phase: 'racing' }),
    heat('called', '10:02', '10:07', ['b3', 'b4'], { phase: 'called', benches: ['b3', 'b4'] }),
    heat('one', '10:05', '10:10', ['b2', 'b1'], { not_before: at('10:05') }),
    heat('two', '10:07', '10:12', ['b3', 'b4']),
    heat('three', '10:10', '10:15', ['b1', 'b4']),
  ],
  to_come: [{ division: 'a', stage: 1, round: 2, number: 1, likely: at('10:20'), until: at('10:25'), benches: ['b1'] }],
};
const all = items(plan, benches);
const order = ['one', 'two', 'three'];

test('heats stand on the rows of their benches, each by how far it is', () => {
  expect(all.map((item) => [item.look, item.rows])).toEqual([
    ['racing', [0, 1]],
    ['called', [2, 3]],
    ['told', [0, 1]],
    ['likely', [2, 3]],
    ['likely', [0, 3]],
    ['ahead', [0]],
  ]);
  expect(all.map(waits)).toEqual([false, false, true, true, true, false]);
  expect(spans([0, 1, 3])).toEqual([
    [0, 2],
    [3, 1],
  ]);
});

test('the arrow keys go through the calls, and from bench to bench', () => {
  const to = (from: string | undefined, step: Parameters<typeof walk>[2]) => walk(all, from, step)?.key;
  expect(to(undefined, 'after')).toBe('racing');
  expect(to('racing', 'after')).toBe('called');
  expect(to('racing', 'before')).toBe('racing');
  expect(to('one', 'last')).toBe('ahead a 1 2 1 0');
  expect(to('one', 'down')).toBe('two'); // the nearest in time on the next bench below
  expect(to('two', 'up')).toBe('one');
  expect(to('racing', 'up')).toBe('racing');
});

test('a heat that is dropped comes before the first that is called then or later', () => {
  expect(beforeAt(all, order, 'three', ms('10:06'))).toBe('two');
  expect(beforeAt(all, order, 'one', ms('10:30'))).toBeUndefined();
  expect(reordered(order, 'three', 'two')).toEqual(['one', 'three', 'two']);
  expect(reordered(order, 'one', undefined)).toEqual(['two', 'three', 'one']);
});

test('until the new plan is there heats stand in the places of one another', () => {
  const shown = preview(all, ['two', 'one', 'three']);
  const of = (key: string) => shown.find((item) => item.key === key)!;
  expect([of('two').from, of('two').rows]).toEqual([ms('10:05'), [0, 1]]);
  expect([of('one').from, of('one').to]).toEqual([ms('10:07'), ms('10:12')]);
  expect(of('racing')).toBe(all[0]);
});

test('what speaks against a time is said before the heat is dropped', () => {
  const car = { entry: 'called-0', start_number: 17 };
  const moved = heat('moved', '11:00', '11:05', ['b1'], {
    not_before: at('10:30'),
    held_until: at('10:20'),
    cars: [car],
    leg: 2,
    number: 9,
  });
  const with_ = [
    ...all,
    ...items({ heats: [moved, heat('leg', '10:50', '10:55', ['b2'], { leg: 1, number: 9 })] }, benches),
  ];
  const said = (time: string) => against(with_, moved, 300_000, ms(time)).map((a) => a.code);
  expect(said('11:00')).toEqual([]);
  expect(said('10:40')).toEqual(['leg']);
  expect(said('10:03')).toEqual(['told', 'held', 'car', 'leg']);
  // A race that ends at the second at which it would be called is no conflict.
  expect(said('10:07')).toEqual(['told', 'held', 'leg']);
});

test('conflicts of the order that stands: who is overtaken and why, and benches that are out', () => {
  const overtaken = {
    heats: plan.heats.map((h) =>
      h.heat === 'one' ? { ...h, ahead: 2, waits_for: { code: 'car' as const, number: 4 } } : h,
    ),
  };
  expect(conflicts(overtaken, benches, order)).toEqual([
    { code: 'overtaken', heat: overtaken.heats[2], place: 1, why: { code: 'car', number: 4 } },
  ]);
  // Waiting for benches is no conflict: every heat does.
  const busy = { heats: plan.heats.map((h) => ({ ...h, ahead: 2, waits_for: { code: 'benches' as const } })) };
  expect(conflicts(busy, benches, order)).toEqual([]);
  const out = benches.map((bench) => ({ ...bench, out_of_service: bench.id === 'b3' }));
  expect(conflicts(plan, out, order).map((c) => [c.code, c.heat.heat])).toEqual([['on', 'called']]);
});

test('the frame begins before now and ends with the day', () => {
  expect(frameOf('hour', ms('10:07'), [ms('15:00')])).toEqual({ from: ms('10:00'), to: ms('11:05') });
  expect(frameOf('day', ms('10:07'), [ms('15:00'), ms('14:31')])).toEqual({ from: ms('10:00'), to: ms('15:05') });
  expect(ticksOf({ from: ms('10:00'), to: ms('11:05') }).map((t) => new Date(t).getUTCMinutes())).toEqual([
    0, 10, 20, 30, 40, 50, 0,
  ]);
});

test('the tasks of the day stand in the board, but for a lunch that each child has for itself', () => {
  const tasks = [
    { kind: 'set-up' as const, from: at('09:00'), until: at('09:20') },
    { kind: 'lunch' as const, from: at('12:00'), until: at('13:30'), each_min: 30 },
    { kind: 'packing' as const, from: at('16:30'), until: at('17:00') },
  ];
  expect(tasksOf({ tasks })).toEqual([
    { code: 'set-up', from: ms('09:00'), to: ms('09:20') },
    { code: 'packing', from: ms('16:30'), to: ms('17:00') },
  ]);
  expect(tasksOf({})).toEqual([]);
});
