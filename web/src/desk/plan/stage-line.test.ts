import { expect, test } from 'vitest';
import { stageLine } from './stage-line';

test('a line says all that was chosen for a stage', () => {
  expect(stageLine({ kind: 'swiss', race_s: 60, lanes: 2, rounds: 5, seeding: 'rating' }, 1)).toBe(
    '5 Swiss rounds, 1 minute a run, seeded by rating',
  );
  expect(
    stageLine(
      { kind: 'groups', race_s: 30, lanes: 2, groups: 4, cycles: 2, seeding: 'hand', seeds: 8, separate_clubs: true },
      1,
    ),
  ).toBe(
    '4 groups, 30 seconds a run, each two meet twice, seeded by hand, only the first 8 seeded, the others by lot, clubmates kept apart',
  );
  expect(stageLine({ kind: 'timed-rounds', race_s: 60, lanes: 4, rounds: 1, rule: 'best' }, 1)).toBe(
    '1 timed round, 1 minute a run, up to 4 cars in a heat, best run counts',
  );
  expect(stageLine({ kind: 'points-rounds', race_s: 60, lanes: 3, rounds: 6, place_points: [5, 3, 1] }, 1)).toBe(
    '6 rounds for points by place, 1 minute a run, up to 3 cars in a heat, places give 5, 3 and 1 points',
  );
});

test('a first stage says how it is seeded; a later one comes by the stage before', () => {
  const knockout = { kind: 'knockout', race_s: 60, lanes: 2, entries: 8, third_place: true } as const;
  expect(stageLine(knockout, 1)).toBe(
    'Knockout, 1 minute a run, the best 8, with a race for third place, seeded by lot',
  );
  expect(stageLine(knockout, 2)).toBe('Knockout, 1 minute a run, the best 8, with a race for third place');
});
