import type { components } from '$lib/api/schema.gen';
import type { Texts } from './texts';

type Schema = components['schemas'];

/**
 * The words for codes of the API. Where the contract lists the codes, their type
 * keeps the list whole; for the others codes.test.ts does. Here stand those that
 * every face says; day-codes, rule-codes and desk-codes hold what only some pages do.
 */
export const codes = {
  role: {
    organiser: 'Organiser',
    official: 'Official',
    referee: 'Referee',
    inspector: 'Inspector',
    volunteer: 'Bench volunteer',
    box: 'Counter box',
    public: 'Visitor',
  } satisfies Texts<Schema['Role']>,

  phase: {
    drawn: 'To come',
    called: 'Called',
    racing: 'Racing',
    provisional: 'May still change',
    official: 'Official',
  } satisfies Texts<Schema['Heat']['phase']>,

  laneState: {
    waiting: 'Waiting',
    called: 'Called',
    ready: 'Ready',
    racing: 'Racing',
    done: 'Done',
  } satisfies Texts<Schema['Lane']['state']>,

  status: {
    'did-not-start': 'Did not start',
    'did-not-finish': 'Did not finish',
    disqualified: 'Disqualified',
    withdrawn: 'Races no more',
  } satisfies Texts<NonNullable<Schema['Lane']['status']>>,

  source: {
    bench: 'Measured on the bench',
    hand: 'Counted by hand',
  } satisfies Texts<Schema['Run']['source']>,

  reason: {
    'bench-fault': 'Bench fault',
    'missed-pulses': 'Missed turns',
    power: 'Power failure',
    'volunteer-error': 'A mistake at the bench',
    'outside-interference': 'Somebody or something got in the way',
    'off-rollers': 'The car left the rollers',
    stalled: 'The car stalled',
    'false-start': 'False start',
    'wrong-car': 'The wrong car was on the bench',
    'not-there': 'Not there when called',
    'car-not-legal': 'The car is not allowed',
    conduct: 'Behaviour',
    protest: 'A protest was right',
    family: 'Family reasons',
    tie: 'A tie',
    time: 'Time is short',
    'benches-differ': 'The benches do not read alike',
    alarm: 'Alarm',
    lunch: 'Lunch',
    'car-changed': 'The car was changed',
    other: 'Another reason',
  } as Record<string, string>,

  /** What a heat decides beside who goes on. */
  heatPurpose: {
    final: 'Final',
    'second-final': 'Second final',
    'third-place': 'Race for third place',
    'plate-final': 'Plate final',
    'b-final': 'B-final',
  } satisfies Texts<Schema['HeatPurpose']>,
};
