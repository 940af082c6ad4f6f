import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { codes } from './en/codes';
import { dayCodes } from './en/day-codes';
import { deskCodes } from './en/desk-codes';
import { practice } from './en/practice';
import { said } from '.';

// The contract leaves these lists open; the core names them. A new code there has
// to get a text here.
const core = (path: string) => readFileSync(join(import.meta.dirname, '../../../../domain', path), 'utf8');
const constants = (source: string, type: string) =>
  [...source.matchAll(new RegExp(`^\\t\\w+\\s+${type}\\s+= "([a-z0-9-]+)"`, 'gm'))].map((m) => m[1]!);

// What keeps the server from keeping anything is a decision of the desk too.
const disk = [
  .../StatusInsufficientStorage: \{(.*)\}/.exec(core('../api/rest/problem.go'))![1]!.matchAll(/"([a-z-]+)"/g),
].map((m) => m[1]!);

const jumped = [...core('../api/rest/meet.go').matchAll(/^const clockJumped = "([a-z-]+)"/gm)].map((m) => m[1]!);

const away = [...core('../api/rest/trouble.go').matchAll(/^const databaseAway = "([a-z-]+)"/gm)].map((m) => m[1]!);

describe('every code of the core has a text', () => {
  const lists: [name: string, texts: Record<string, string>, wanted: string[]][] = [
    ['reasons', codes.reason, constants(core('day/ruling.go'), 'ReasonCode')],
    ['decisions', deskCodes.decision, [...constants(core('board/task.go'), 'TaskKind'), ...disk, ...jumped, ...away]],
    ['reasons of a pairing', deskCodes.pairReason, constants(core('../bracket/swissreason.go'), 'Reason')],
    ['flags', deskCodes.flag, constants(core('measure/flag.go'), 'Code')],
    // About wheel rpm, which the bench page does not show.
    ['flags at a bench', { ...practice.flags, 'no-slip-assumed': '' }, constants(core('measure/flag.go'), 'Code')],
  ];
  test.each(lists)('%s', (_, texts, wanted) => {
    expect(wanted.length).toBeGreaterThan(5);
    expect(Object.keys(texts).sort()).toEqual([...wanted].sort());
  });
});

test('every way to draw has words for a page, without the name that the log gives it', () => {
  const named = readdirSync(join(import.meta.dirname, '../../../../domain/programme'))
    .filter((name) => name.endsWith('.go'))
    .flatMap((name) =>
      [...core(`programme/${name}`).matchAll(/^const method\w+ = "([a-z-]+)\/\d+"/gm)].map((m) => m[1]!),
    );
  expect(named.length).toBeGreaterThan(5);
  expect(Object.keys(dayCodes.drawMethod).sort()).toEqual(named.sort());
  const words = [...Object.values(dayCodes.drawMethod), ...Object.values(deskCodes.pairReason)].join(' ');
  expect(words).not.toMatch(/berger|dutch|nested|\bsides?\b|\bdue\b|\/\d/i);
});

test('an unknown code is shown as words', () => {
  expect(said(codes.reason, 'of-a-later-version')).toBe('of a later version');
});

test('exits of a knockout', () => {
  expect(['round-of-16', 'semi-final', 'third'].map(dayCodes.exit)).toEqual([
    'out in the last 16',
    'out in the semi-final',
    'won the race for third',
  ]);
});
