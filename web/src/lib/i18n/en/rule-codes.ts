import type { components } from '$lib/api/schema.gen';
import type { Texts } from './texts';

type Schema = components['schemas'];

/** The words for codes of the rules of a meet. */
export const ruleCodes = {
  tie: {
    shared: 'The place is shared',
    'next-best': 'The next-best run decides',
    decider: 'They race again',
  } satisfies Texts<Schema['Rules']['tie']>,

  close: {
    say: 'The longer distance ranks, and the page says that it was close',
    decider: 'The two race a decider',
  } satisfies Texts<NonNullable<Schema['Rules']['close']>>,

  didNotFinish: {
    'keep-distance': 'Keeps the distance it has',
    'no-result': 'Has no result',
  } satisfies Texts<Schema['Rules']['did_not_finish']>,

  benchPolicy: {
    report: 'Report it',
    correct: 'Correct the results at set points',
    'take-out': 'Take the bench out',
  } satisfies Texts<Schema['Rules']['benches']>,

  late: {
    no: 'Nobody may enter after the draw',
    'next-round': 'Late entries start in the next timed round',
  } satisfies Texts<Schema['Rules']['late']>,

  handCounts: {
    ranks: 'Hand counts rank',
    shown: 'Hand counts are shown and do not rank',
  } satisfies Texts<Schema['Rules']['hand_counts']>,

  gate: {
    off: 'Nothing',
    warn: 'It is shown, and the car races',
    hold: 'The car waits until it is put right, or an official lets it race',
  } satisfies Texts<Schema['GateRule']>,

  chemistry: {
    alkaline: 'Alkaline',
    'zinc-carbon': 'Zinc-carbon',
    lithium: 'Lithium',
    'nickel-metal-hydride': 'Nickel-metal hydride',
  } satisfies Texts<Schema['Chemistry']>,

  incident: {
    'off-rollers': 'Car off the rollers',
    stalled: 'Stall',
    'false-start': 'False start',
    'bench-failed': 'Bench failed',
  } satisfies Texts<Schema['IncidentRule']['incident']>,

  consequence: {
    'keep-distance': 'Keep the distance',
    'rerun-lane': 'Re-run the lane',
    'rerun-heat': 'Re-run the heat',
    'did-not-finish': 'Did not finish',
  } satisfies Texts<Schema['IncidentRule']['consequence']>,
  /** What a day has beside its races. */
  task: {
    'set-up': 'Set-up',
    'bench-check': 'Check of the benches',
    practice: 'Practice',
    briefing: 'Briefing',
    lunch: 'Lunch',
    prizes: 'Prize-giving',
    packing: 'Packing',
  } satisfies Record<Schema['PlanTask']['kind'], string>,
};
