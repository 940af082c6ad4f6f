import { describe, expect, test } from 'vitest';
import { fewSays, noteSays, whySays } from './notes';

const racers = [
  { entry: 'a', start_number: 3 },
  { entry: 'b', start_number: 7, display_name: 'Puffin' },
];

describe('notes of a draw as sentences', () => {
  test.each([
    [
      { stage: 1, code: 'clubmates-meet', round: 2, racers },
      '3 and 7 Puffin come for one club and may meet in round 2 already: no better place was free.',
    ],
    [
      { stage: 1, code: 'clubmates-in-group', group: 'B', racers },
      '3 and 7 Puffin come for one club and are in group B: no better place was free.',
    ],
    [
      { stage: 1, code: 'seeds-moved', racers },
      '3 and 7 Puffin changed places within their seed group, so that clubmates meet late.',
    ],
    [
      { stage: 1, code: 'no-plate', racers: [] },
      'The plate is left out: fewer than two who are beaten at once have no other heat to go to.',
    ],
    [
      { stage: 1, code: 'fewer-next-best', round: 2, racers: [] },
      'Fewer next best go on from round 2 than the programme says: the final has no more lanes, or nobody else ran.',
    ],
    [{ stage: 1, code: 'of-a-later-version', racers }, 'of a later version: 3 and 7 Puffin'],
  ])('%o', (note, sentence) => expect(noteSays(note)).toBe(sentence));
});

describe('reasons of a pairing as sentences', () => {
  test.each([
    [['same-score', 'sides-wished'], 'Why: both have the same points; both change to the other bench.', ''],
    [
      ['floats-down', 'relaxed-rematch'],
      'Why: one has more points and found no partner among equals.',
      'A rule gave way: no pairing by the rules was left, so the two meet again.',
    ],
    [undefined, '', ''],
  ])('%o', (reasons, why, gaveWay) => expect(whySays(reasons)).toEqual({ why, gaveWay }));
});

test('who would go home with too few races', () => {
  const few = racers.map((racer, runs) => ({ racer, runs }));
  expect(fewSays(few, 2)).toBe(
    '3 (0 races) and 7 Puffin (1 race): the programme has no more heat for them, and the rules promise 2 races.',
  );
});
