import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { expect, test } from 'vitest';

const root = resolve(import.meta.dirname, '..');

/**
 * Every module of the browser code that is no test, with the modules that it imports, types included. What loads
 * later by import() is not among them.
 */
function modules(): Map<string, string[]> {
  const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((name) =>
    /(?<!\.test)\.(ts|svelte)$/.test(name),
  );
  return new Map(files.map((name) => [name, importsOf(join(root, name))]));
}

function importsOf(file: string): string[] {
  const text = readFileSync(file, 'utf8').replace(/\/\*[^]*?\*\/|^\s*\/\/.*$/gm, '');
  const named = [...text.matchAll(/^\s*(?:import|export)\b[^'"`;()]*?['"]([^'"]+)['"]/gm)].map((found) => found[1]!);
  return named.filter((name) => /^(\.|\$lib)/.test(name)).map((name) => relative(root, found(file, name)));
}

function found(from: string, name: string): string {
  const base = name.startsWith('.') ? resolve(dirname(from), name) : join(root, 'lib', name.slice('$lib'.length));
  const path = [base, `${base}.ts`, join(base, 'index.ts')].find((one) => existsSync(one) && statSync(one).isFile());
  if (!path) throw new Error(`${from} imports ${name}, which is not there`);
  return path;
}

/** circleIn is a way through the imports that ends where it began; undefined where there is none. */
function circleIn(imports: Map<string, string[]>): string[] | undefined {
  const through = new Set<string>();
  const walk = (name: string, way: string[]): string[] | undefined => {
    if (way.includes(name)) return [...way.slice(way.indexOf(name)), name];
    if (through.has(name)) return undefined;
    for (const next of imports.get(name) ?? []) {
      const circle = walk(next, [...way, name]);
      if (circle) return circle;
    }
    through.add(name);
    return undefined;
  };
  for (const name of imports.keys()) {
    const circle = walk(name, []);
    if (circle) return circle;
  }
  return undefined;
}

test('the browser code is read from top to bottom: no modules import each other in a circle', () => {
  const all = modules();
  expect(all.get('lib/session.svelte.ts')).toContain('lib/api/index.ts'); // imports are found at all
  expect([...all.values()].flat().length).toBeGreaterThan(all.size);
  expect(circleIn(all)).toBeUndefined();
});

test('a circle is found where there is one', () => {
  expect(
    circleIn(
      new Map([
        ['a', ['b']],
        ['b', ['c', 'd']],
        ['c', []],
        ['d', ['b']],
      ]),
    ),
  ).toEqual(['b', 'd', 'b']);
});

test('a face imports nothing of another face', () => {
  for (const [name, imports] of modules()) {
    const face = name.split('/')[0];
    const others = imports.filter(
      (one) => ['bench', 'desk', 'screen'].includes(one.split('/')[0]!) && one.split('/')[0] !== face,
    );
    expect(others, name).toEqual([]);
  }
});
