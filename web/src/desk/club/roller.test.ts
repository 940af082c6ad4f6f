import { expect, test } from 'vitest';
import { rollerOf, settingsOf, type Roller } from './roller';

const roller = (of: Partial<Roller>): Roller => ({ ...rollerOf(undefined), ...of });

// Worked out on paper from JCGM 100:2008, 4.3.7: ±a is a standard uncertainty of a/√3 = 0.57735 a.
test.each([
  ['25 turns along a tape', 25, 2357, 1, 94.28, 0.023],
  ['20 turns, read to 2 mm', 20, 1885, 2, 94.25, 0.058],
  ['a strip of one turn, read to half a millimetre', 1, 94, 0.5, 94, 0.289],
  ['a third that does not come out even', 3, 283, 1, 94.333, 0.192],
  ['nothing is known for sure', 1000, 94_250, 0.1, 94.25, 0.001],
])('%s', (_, turns, length_mm, within_mm, circumference_mm, circumference_u_mm) => {
  const rolled = { turns, length_mm, within_mm };
  expect(settingsOf(roller({ way: 'rolled', rolled }))).toEqual({ circumference_mm, circumference_u_mm, rolled });
});

test.each([
  ['a caliper', 30, 0.02, 94.248, 0.036],
  ['a caliper on soft rubber', 29.95, 0.05, 94.091, 0.091],
])('%s', (_, diameter_mm, within_mm, circumference_mm, circumference_u_mm) => {
  const caliper = { diameter_mm, within_mm };
  expect(settingsOf(roller({ way: 'caliper', caliper }))).toEqual({ circumference_mm, circumference_u_mm, caliper });
});

test('what is not filled in gives nothing, and other ways are not sent', () => {
  const all: Roller = {
    way: 'known',
    known: { circumference_mm: 94, circumference_u_mm: 0.05 },
    rolled: { turns: 25, length_mm: 2357, within_mm: 1 },
    caliper: { diameter_mm: 30, within_mm: 0.02 },
  };
  expect(settingsOf(all)).toEqual({ circumference_mm: 94, circumference_u_mm: 0.05 });
  expect(settingsOf({ ...all, known: { ...all.known, circumference_mm: null } })).toBeUndefined();
  for (const gone of [{ turns: null }, { turns: 0 }, { length_mm: null }, { within_mm: null }])
    expect(settingsOf({ ...all, way: 'rolled', rolled: { ...all.rolled, ...gone } })).toBeUndefined();
  for (const gone of [{ diameter_mm: null }, { within_mm: null }])
    expect(settingsOf({ ...all, way: 'caliper', caliper: { ...all.caliper, ...gone } })).toBeUndefined();
});

test('a bench opens as it was measured', () => {
  const bench = { circumference_mm: 94.28, circumference_u_mm: 0.023 };
  expect(rollerOf(bench).way).toBe('known');
  expect(rollerOf({ ...bench, rolled: { turns: 25, length_mm: 2357, within_mm: 1 } })).toMatchObject({
    way: 'rolled',
    rolled: { turns: 25, length_mm: 2357 },
  });
  expect(rollerOf({ ...bench, caliper: { diameter_mm: 30, within_mm: 0.02 } }).way).toBe('caliper');
});
