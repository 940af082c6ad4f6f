import { expect, test } from 'vitest';
import { spareMinutes, waiting } from './spare';

test('what is to spare until the last race has to be over, and what is too late', () => {
  const by = '2027-04-17T16:45:00Z';
  expect(spareMinutes({ finish: '2027-04-17T16:30:20Z', last_race_by: by })).toBe(15);
  expect(spareMinutes({ finish: '2027-04-17T17:05:00Z', last_race_by: by })).toBe(-20);
  expect(spareMinutes({ finish: by })).toBeUndefined();
  expect(spareMinutes({ last_race_by: by })).toBeUndefined();
});

test('heats on their benches wait for no call', () => {
  const heat = (id: string, phase: 'drawn' | 'called' | 'racing') => ({
    heat: id,
    division: 'a',
    stage: 1,
    round: 1,
    number: 1,
    phase,
    benches: [],
    ahead: 0,
    cars: [],
  });
  expect(waiting({ heats: [heat('1', 'racing'), heat('2', 'called'), heat('3', 'drawn')] }).map((h) => h.heat)).toEqual(
    ['3'],
  );
});
