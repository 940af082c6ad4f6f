import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Told } from '../told';
import { flags } from './flags';
import { notes } from './notes';
import { refused } from './refused';

// The core has the sentences that the server says. Each has to have a German one, with no argument that it does not
// get; arguments that are English words may be left out.
const root = join(import.meta.dirname, '../../../../..');
const read = (path: string) => readFileSync(join(root, path), 'utf8');
const sentences = (source: string) =>
  new Map([...source.matchAll(/^\t+"([a-z0-9-]+)": +"((?:[^"\\]|\\.)*)",?$/gm)].map((m) => [m[1]!, m[2]!]));
const places = (text: string) => [...text.matchAll(/\{(\w+)\}/g)].map((m) => m[1]!).sort();

/** Of all that begins with "plan-", what the plan of a meet is refused for: its page says these. */
const ofTheMeetsPlan = [
  'plan-name',
  'plan-date',
  'plan-hour',
  'plan-hours',
  'plan-tasks',
  'plan-task-opens',
  'plan-task-kind',
  'plan-task-minutes',
  'plan-task-hours',
  'plan-lunch-time',
  'plan-lunch-window',
  'plan-minutes',
  'plan-drawn',
];

/** Inputs of the plan that only its command on the command line takes: no page says these. */
const ofTheCommandLine = (code: string) => /^plan-/.test(code) && !ofTheMeetsPlan.includes(code);

/** Arguments that the server has in English words only; the German sentence does without. */
const english = new Set([
  'what',
  'setting',
  'tie_break',
  'method',
  'rule',
  'policy',
  'code',
  'counts',
  'status',
  'why',
  'kind',
  'field',
  'session',
  'run',
  'person',
  'asked',
  'now',
  'heat',
]);

const refusals = new Map(
  readdirSync(join(root, 'domain/refusal'))
    .filter((name) => name.endsWith('.go') && !name.endsWith('_test.go'))
    .flatMap((name) => [...sentences(read(`domain/refusal/${name}`))]),
);

test.each<[what: string, texts: Told, wanted: Map<string, string>, least: number]>([
  ['refusals', refused, new Map([...refusals].filter(([code]) => !ofTheCommandLine(code))), 300],
  ['notes', notes, sentences(read('domain/fairness/english.go')), 30],
])('every sentence of the server: %s', (_, texts, wanted, least) => {
  expect(wanted.size).toBeGreaterThan(least);
  const own = Object.keys(texts).filter((code) => !code.includes('='));
  expect(own.sort()).toEqual([...wanted.keys()].sort());
  for (const [code, says] of wanted) {
    const given = places(says);
    const said = new Set(places(texts[code]!));
    // Beside the rule in English, a draw has its code.
    const more = [...said].filter((name) => !given.includes(name) && !(code === 'draw-refused' && name === 'code'));
    expect(more, code).toEqual([]);
    expect(
      given.filter((name) => !said.has(name) && !english.has(name)),
      code,
    ).toEqual([]);
  }
});

test('every flag of a measurement, with the arguments that it has', () => {
  const source = read('domain/measure/flag.go');
  const codes = new Map([...source.matchAll(/^\t(\w+) +Code = "([a-z-]+)"/gm)].map((m) => [m[1]!, m[2]!]));
  const wanted = [...source.matchAll(/\{\s*(\w+),\s*"([^"]*)",?\s*\}/g)].map(
    (m) => [codes.get(m[1]!)!, m[2]!] as const,
  );
  expect(wanted.length).toBeGreaterThan(30);
  expect(Object.keys(flags).sort()).toEqual(wanted.map(([code]) => code).sort());
  for (const [code, says] of wanted)
    expect(places(flags[code]!), code).toEqual([...says.matchAll(/%\[(\d)\]d/g)].map((m) => m[1]!).sort());
});

test('every part of what a heat is called', () => {
  const parts = sentences(read('domain/naming/english.go'));
  expect(parts.size).toBeGreaterThan(20);
  const own = Object.keys(refused).filter((code) => code.startsWith('called='));
  expect(own.sort()).toEqual([...parts.keys()].map((code) => `called=${code}`).sort());
  for (const [code, says] of parts) expect(places(refused[`called=${code}`]!), code).toEqual(places(says));
});
