import type { Schema } from '$lib/api';
import { expect, test } from 'vitest';
import { homeOf, partAlone, partsApart } from './home';

const session = { id: 's', race_s: 20 } as Schema['PracticeSession'];
const run = (distance_m: number, more: Partial<Schema['LifeRun']> = {}): Schema['LifeRun'] => ({
  id: '',
  at: '',
  session: 's',
  race_s: 20,
  counts: true,
  distance_m,
  ...more,
});

test('a family reads of its own car what was tried, how far it went and how the guesses were', () => {
  const answer = { from: 1, to: 2, unfair: [], verdict: 'quicker', change: 0.03, low: 0.02, high: 0.04 } as const;
  const figures = {
    cars: [
      {
        car_number: 7,
        runs: 3,
        changes: 1,
        guesses: [
          { run: '', guess_m: 190, distance_m: 200, error: 0.05, after_change: true },
          { run: '', guess_m: 206, distance_m: 204, error: 0.01, after_change: false },
        ],
        answers: [answer, { ...answer, from: 0 }],
      },
      { car_number: 8, runs: 0, changes: 0, guesses: [], answers: [] },
    ],
  } as unknown as Schema['SessionFigures'];
  const states = [
    { state: 1, setup: { driving_teeth: 8, driven_teeth: 32, pack: 1 } },
    { state: 2, setup: { driving_teeth: 9, driven_teeth: 32, pack: 1 } },
  ];
  const runs = [
    run(200),
    run(204),
    run(900, { session: 'other' }),
    run(1, { counts: false }),
    run(100, { race_s: 10 }),
  ];
  const life = { car_number: 7, runs, states } as unknown as Schema['CarLife'];
  const homes = homeOf(session, figures, [life]);
  expect(homes).toHaveLength(1);
  expect(homes[0]).toMatchObject({ car: 7, runs: 3, leastM: 200, mostM: 204, raceS: 20, guesses: 2, offM: 6 });
  expect(homes[0]!.came.map((one) => one.parts)).toEqual([['gear']]);
});

test('what differs', () => {
  expect(partsApart({ cells: 2, pack: 1 }, { cells: 2, chemistry: 'alkaline', pack: 2 })).toEqual(['cells', 'pack']);
  expect(partsApart({ tyres: 'foam' }, { tyres: 'foam' })).toEqual([]);
  expect(partAlone('gear', { driving_teeth: 9, driven_teeth: 32, pack: 1 })).toEqual({
    driving_teeth: 9,
    driven_teeth: 32,
  });
});
