import { expect, test } from 'vitest';
import { clashes, lookBody } from './looking';

const benches = [
  { id: 'b1', out_of_service: false },
  { id: 'b2', out_of_service: true },
  { id: 'b3', out_of_service: false },
];

test('a look asks for what is otherwise alone', () => {
  expect(lookBody({ out: ['b2'], pause_min: null, adults: null }, benches)).toEqual({});
  expect(lookBody({ out: ['b1', 'b2'], pause_min: 0, adults: null }, benches)).toEqual({ benches_out: ['b1'] });
  expect(lookBody({ out: [], pause_min: 20, adults: 2 }, benches)).toEqual({
    benches_back: ['b2'],
    pause_min: 20,
    adults: 2,
  });
});

test('what cannot go with benches out: who stands on one, and heats that are too wide', () => {
  const heat = (id: string, phase: 'drawn' | 'called', cars: number, on: string[] = []) => ({
    heat: id,
    division: 'a',
    stage: 1,
    round: 1,
    number: 1,
    phase,
    benches: on,
    ahead: 0,
    cars: Array.from({ length: cars }, (_, n) => ({ entry: `e${n}`, start_number: n + 1 })),
  });
  const plan = { heats: [heat('called', 'called', 2, ['b1', 'b3']), heat('two', 'drawn', 2), heat('one', 'drawn', 1)] };
  const said = (out: string[]) => clashes(plan, benches, out).map((c) => `${c.code} ${c.heat.heat}`);
  expect(said(['b2'])).toEqual([]);
  expect(said(['b2', 'b3'])).toEqual(['on called', 'wide two']);
  // Where no bench is left nothing is raced at all: that is said once, not of each heat.
  expect(said(['b1', 'b2', 'b3'])).toEqual(['on called', 'on called']);
});
