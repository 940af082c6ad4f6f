import type { Schema } from '$lib/api';
import { expect, test } from 'vitest';
import { practiceStanding, signOf, standingOf, type Standing } from './signs';

const began = Date.parse('2027-04-17T09:00:00Z');
/** A board on which bench b1 has car 7 in this state; the race lasts 60 s. */
function board(state: string, more: object = {}): Schema['Board'] {
  const heat = {
    id: 'junior-1.1.1',
    race_s: 60,
    started: '2027-04-17T09:00:00Z',
    lanes: [
      { racer: { entry: 'e8', start_number: 8 }, bench: 'b2', state: 'ready' },
      { racer: { entry: 'e7', start_number: 7 }, bench: 'b1', state, armed: 'r1', ...more },
    ],
  };
  const called = state === 'called' || state === 'ready';
  return { racing: called ? [] : [heat], called: called ? [heat] : [], next: [], posted: [] } as never;
}
const none = { racing: [], called: [], next: [], posted: [] } as never as Schema['Board'];

/** told is what a phone tells of, as a bench goes from one to the next. */
function told(...steps: Standing[]): (string | undefined)[] {
  return steps.map((one, i) => signOf(steps[i - 1], one));
}

test('a day at a bench: the call, the start, the time that is up, and the run', () => {
  expect(
    told(
      standingOf(none, 'b1', began),
      standingOf(board('called'), 'b1', began),
      standingOf(board('called'), 'b1', began),
      standingOf(board('ready'), 'b1', began),
      standingOf(board('called'), 'b1', began), // taken back: nobody is called anew
      standingOf(board('ready'), 'b1', began),
      standingOf(board('racing'), 'b1', began + 1),
      standingOf(board('racing'), 'b1', began + 59_999),
      standingOf(board('racing'), 'b1', began + 60_000),
      standingOf(board('racing'), 'b1', began + 61_000),
      standingOf(board('done', { run: 'r1' }), 'b1', began + 62_000),
      standingOf(none, 'b1', began + 63_000),
    ),
  ).toEqual([undefined, 'call', ...Array(4).fill(undefined), 'go', undefined, 'time', undefined, 'end', undefined]);
});

test('another attempt is another call, and another bench is its own matter', () => {
  const again = board('called', { armed: 'r2' });
  expect(told(standingOf(board('called'), 'b1', began), standingOf(again, 'b1', began))).toEqual([undefined, 'call']);
  expect(told(standingOf(board('called'), 'b2', began), standingOf(again, 'b2', began))).toEqual([
    undefined,
    undefined,
  ]);
});

test('what was so when the page was opened is not told', () => {
  expect(told(standingOf(board('racing'), 'b1', began + 1))).toEqual([undefined]);
});

test('practice starts when its roller turns, and ends with its run', () => {
  const order = { kind: 'practice', run: 'p1', race_s: 20 } as Schema['BenchOrder'];
  const at = (elapsed_s: number) => practiceStanding(order, { elapsed_s } as Schema['LiveSpeed']);
  expect(told(practiceStanding(order, undefined), at(1), at(19), at(20), standingOf(none, 'b1', began))).toEqual([
    undefined,
    'go',
    undefined,
    'time',
    'end',
  ]);
});
