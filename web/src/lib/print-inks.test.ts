import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';

const root = resolve(import.meta.dirname, '..');

test('that plates are printed in one ink stands in one place', () => {
  const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((name) => /\.(css|svelte)$/.test(name));
  const saying = files.filter((name) => /--bench-\d: var\(--ink\)/.test(readFileSync(join(root, name), 'utf8')));
  expect(saying).toEqual(['lib/print-inks.css']);
});
