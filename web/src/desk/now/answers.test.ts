import { describe, expect, test } from 'vitest';
import { deskCodes } from '$lib/i18n/en/desk-codes';
import { answersTo, inOrder, keyOf } from './answers';

const lane = (entry: string, run?: string) => ({
  racer: { entry, start_number: 1 },
  state: 'done' as const,
  ...(run && { run }),
});
const heat = {
  id: 'h',
  division: 'd',
  stage: 1,
  round: 1,
  number: 1,
  phase: 'provisional' as const,
  lanes: [lane('a', 'r1'), lane('b', 'r2'), lane('c')],
};

describe('answersTo', () => {
  // A full disk and a clock are seen to at the server's computer, and no key here helps.
  const elsewhere = ['clock-jumped', 'disk-full', 'disk-read-only', 'database-away'];
  test.each(Object.keys(deskCodes.decision))('%s can be answered', (kind) => {
    const answers = answersTo({ kind, heat: 'h' }, heat);
    if (elsewhere.includes(kind)) expect(answers).toEqual([]);
    else expect(answers).not.toEqual([]);
  });

  test('a tie is answered by a re-run of every lane that raced, not against the limit', () => {
    const answers = answersTo({ kind: 'tie', heat: 'h' }, heat);
    expect(answers.map((a) => 'about' in a && [a.about.entry, a.about.reason])).toEqual([
      ['a', 'tie'],
      ['b', 'tie'],
    ]);
  });

  test('a tie between cars of several heats asks for the one car that it names', () => {
    const answers = answersTo({ kind: 'tie', heat: 'h', racer: { entry: 'b', start_number: 1 } }, heat);
    expect(answers.map((a) => 'about' in a && a.about.entry)).toEqual(['b']);
  });

  test('a clock that was ahead is answered by the ruling that sets the times right', () => {
    const answers = answersTo({ kind: 'clock-ahead', ahead_s: 31_536_000 }, undefined);
    expect(answers).toMatchObject([{ text: 'setClock', about: { kinds: ['set-clock'] } }]);
  });

  test('what a bench asked for is granted for the reason that it gave', () => {
    const [grant] = answersTo(
      { kind: 'rerun-asked', heat: 'h', reason: 'power', racer: { entry: 'a', start_number: 1 } },
      heat,
    );
    expect(grant).toMatchObject({ about: { kinds: ['grant-rerun'], heat: 'h', entry: 'a', reason: 'power' } });
  });

  test.each([
    ['rerun-lane', 'grant-rerun'],
    ['rerun-heat', 'void'],
    ['did-not-finish', 'did-not-finish'],
    ['keep-distance', 'let-stand'],
  ] as const)('where the rules say %s, %s comes first', (consequence, kind) => {
    const answers = answersTo({ kind: 'doubtful-run', heat: 'h', consequence, reason: 'stalled' }, heat);
    expect(answers).toHaveLength(4);
    expect(answers[0]).toMatchObject({ about: { kinds: [kind], reason: 'stalled' } });
  });

  test.each([
    ['rerun-lane', 'grant-rerun', 2],
    ['rerun-heat', 'void', 3],
    ['did-not-finish', 'did-not-finish', 3],
    ['keep-distance', 'turn-down-rerun', 2],
  ] as const)('a bench asks, and where the rules say %s, %s comes first', (consequence, kind, of) => {
    const answers = answersTo({ kind: 'rerun-asked', heat: 'h', consequence, reason: 'stalled' }, heat);
    expect(answers).toHaveLength(of);
    expect(answers[0]).toMatchObject({ about: { kinds: [kind] } });
    expect(answers.filter((a) => 'about' in a && a.about.kinds[0] === 'grant-rerun')).toHaveLength(1);
  });

  test('the advice says which run should count', () => {
    const answers = answersTo(
      {
        kind: 'doubtful-run',
        heat: 'h',
        consequence: 'rerun-lane',
        reason: 'missed-pulses',
        suggest: 're-run',
        counts: 'better',
      },
      heat,
    );
    expect(answers[0]).toMatchObject({ about: { kinds: ['grant-rerun'], reason: 'missed-pulses', counts: 'better' } });
  });

  test('a kind of a later version has no answers and does no harm', () =>
    expect(answersTo({ kind: 'later' }, heat)).toEqual([]));
});

test('a bench that is out comes last', () => {
  expect(inOrder([{ kind: 'bench-out' }, { kind: 'tie' }, { kind: 'protest' }]).map((d) => d.kind)).toEqual([
    'tie',
    'protest',
    'bench-out',
  ]);
});

test('keys tell decisions apart', () => {
  expect(keyOf({ kind: 'close-round', division: 'a' })).not.toBe(keyOf({ kind: 'close-round', division: 'b' }));
  expect(keyOf({ kind: 'waiting-run', run: 'x' })).toBe(
    keyOf({ kind: 'waiting-run', run: 'x', since: '2027-04-17T09:00:00Z' }),
  );
});
