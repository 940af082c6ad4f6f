import { expect, test } from 'vitest';
import { fitted, measures, rowAcross, rowFor, unitsIn } from './measures';

test('what fits into a height fills it, and no more', () => {
  for (const height of [300, 700, 1000]) {
    for (const row of [20, 33, 50]) {
      const units = unitsIn(height, row);
      if (units > 1) expect(rowFor(height, units)).toBeGreaterThanOrEqual(row);
      expect(rowFor(height, units + 1)).toBeLessThan(Math.max(row, rowFor(height, 1)));
    }
  }
});

test('columns share the width', () => {
  const m = measures(30, 4, 1200);
  expect(m.column * 3 + m.box).toBeCloseTo(1200);
  expect(measures(30, 9, 400).box).toBe(177); // narrower would say nothing: it scrolls
  expect(measures(30, 1, 4000).box).toBe(480);
});

test('as many columns as there are fit into the width', () => {
  const row = rowAcross(1000, 6);
  const m = measures(row, 6, 1000);
  expect(m.column * 5 + m.box).toBeCloseTo(1000);
});

test.each([
  ['Puffin', 200, 20, 'Puffin'],
  ['The Unstoppable Otter', 100, 20, 'The Unstop…'],
  ['Puffin', 10, 20, ''],
])('%s in %i px', (text, width, font, want) => expect(fitted(text, width, font)).toBe(want));
