import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { rulings } from '$lib/i18n/en/desk/rulings';
import { needs } from '../ruling/kinds';

// The list of rulings shows each by the name of its event; the core says which there are.
test('every ruling of the core has a text', () => {
  const core = join(import.meta.dirname, '../../../../domain/day');
  const sources = readdirSync(core)
    .filter((file) => file.endsWith('.go'))
    .map((file) => readFileSync(join(core, file), 'utf8'));
  const noted = sources.flatMap((source) =>
    [...source.matchAll(/^type (\w+) struct \{\n\tRuled\n/gm)].map((found) => found[1]!),
  );
  expect(noted.length).toBeGreaterThan(10);
  expect(noted.filter((name) => !(name in rulings.made))).toEqual([]);
});

test('every kind says what it does', () => expect(Object.keys(rulings.does).sort()).toEqual(Object.keys(needs).sort()));
