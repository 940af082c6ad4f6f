import type { components } from '$lib/api/schema.gen';
import type { Texts } from './texts';
import { format } from './format';

type Schema = components['schemas'];

/** The words for codes of stages, rounds and standings. */
export const dayCodes = {
  waiting: {
    'unknown-run': 'No heat asked for this run',
    'heat-closed': 'Its heat was called off or is over',
    'bench-out': 'Its bench is out of service',
    'wrong-bench': 'Another bench was to make it',
    'lane-taken': 'Its lane has a run already',
    'set-aside': 'An official let another run count in its place',
  } satisfies Texts<NonNullable<Schema['Run']['waiting']>>,

  stageKind: {
    'timed-rounds': 'Timed rounds',
    knockout: 'Knockout',
    'double-elimination': 'Double elimination',
    'round-robin': 'Round robin',
    swiss: 'Swiss rounds',
    groups: 'Groups',
    heats: 'Heats of many lanes',
    'points-rounds': 'Rounds for points by place',
  } satisfies Texts<Schema['StageBody']['kind']>,

  /** How a draw was made, in words; the log has the name and version of the method. */
  drawMethod: {
    'timed-rounds-lot': 'who races together is the lot’s choice',
    'timed-rounds-rest': 'who had not raced yet was dealt again by lot, for the benches that were left',
    'double-elimination-nested': 'the seeds lie as far apart as can be, the rest by lot',
    'groups-berger': 'dealt to the groups, then each meets each in turn',
    'knockout-nested': 'the seeds lie as far apart as can be, the rest by lot',
    'lane-design': 'benches and meetings are shared out evenly',
    heats: 'the seeds are dealt to the heats, the rest by lot',
    'round-robin-berger': 'each meets each in turn',
    'swiss-dutch': 'who has as many points meets, and nobody the same car twice',
  } as Record<string, string>,

  timedRule: {
    best: 'best run counts',
    mean: 'average of the runs counts',
    median: 'middle run counts',
    sum: 'all runs added up count',
  } satisfies Texts<NonNullable<Schema['StageBody']['rule']>>,

  /** What put an entry behind the one above it. */
  decidedBy: {
    result: 'by the result',
    points: 'by points',
    runs: 'by the number of runs',
    status: 'by status',
    shared: 'shared place',
    'next-best': 'by the next-best run',
    decider: 'by the decider',
    latest: 'by the latest run',
    best: 'by the best run',
    mean: 'by the average',
    median: 'by the middle run',
    sum: 'by the sum',
    direct: 'by the heats among them',
    'head-to-head': 'by the heats among them',
    'sonneborn-berger': 'by the points of those it beat',
    koya: 'by points against the upper half',
    wins: 'by the number of wins',
    progressive: 'by the running points',
    'progressive-cut-1': 'by the running points',
    buchholz: 'by the points of its opponents',
    'buchholz-cut-1': 'by the points of its opponents',
    'buchholz-cut-2': 'by the points of its opponents',
    difference: 'by the difference of the distances',
    scored: 'by the distance in all',
    countback: 'by its better places',
    'draw-order': 'by the order of the draw',
  } as Record<string, string>,

  /** A place in the plate of a knockout. */
  plateRank: (place: number) =>
    `${format.ordinal(place, { one: '#st', two: '#nd', few: '#rd', other: '#th' })} in the plate`,

  /** Where an entry went out of a knockout. */
  exit: (exit: string): string => {
    const early = /^round-of-(\d+)$/.exec(exit);
    if (early) return `out in the last ${format.number(Number(early[1]))}`;
    const losers = /^losers-(\d+)$/.exec(exit);
    if (losers) return `out in losers’ round ${format.number(Number(losers[1]))}`;
    const heats = /^heats-(\d+)$/.exec(exit);
    if (heats) return `out in round ${format.number(Number(heats[1]))}`;
    const named: Record<string, string> = {
      final: 'lost the final',
      'in-final': 'in the final',
      'b-final': 'in the B-final',
      third: 'won the race for third',
      fourth: 'lost the race for third',
      'semi-final': 'out in the semi-final',
    };
    return named[exit] ?? exit;
  },
};
