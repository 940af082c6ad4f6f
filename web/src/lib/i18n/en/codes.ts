import type { components } from '$lib/api/schema.gen';
import { format } from './format';

type Schema = components['schemas'];
type Texts<Code extends string> = Record<Code, string>;

/**
 * The words for every code of the API. Where the contract lists the codes, their
 * type keeps the list whole; for the others codes.test.ts does.
 */
export const codes = {
  role: {
    organiser: 'Organiser',
    official: 'Official',
    bench: 'Bench volunteer',
    node: 'Counter box',
    public: 'Visitor',
  } satisfies Texts<Schema['Role']>,

  phase: {
    drawn: 'To come',
    called: 'Called',
    racing: 'Racing',
    provisional: 'Provisional',
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
    withdrawn: 'Withdrawn',
  } satisfies Texts<NonNullable<Schema['Lane']['status']>>,

  source: {
    bench: 'Measured on the bench',
    hand: 'Counted by hand',
  } satisfies Texts<Schema['Run']['source']>,

  waiting: {
    'unknown-run': 'No heat asked for this run',
    'heat-closed': 'Its heat was called off or is over',
    'bench-out': 'Its bench is out of service',
    'wrong-bench': 'Another bench was to make it',
    'lane-taken': 'Its lane has a run already',
    'set-aside': 'A ruling let another run count in its place',
  } satisfies Texts<NonNullable<Schema['Run']['waiting']>>,

  ruling: {
    'grant-rerun': 'Grant a re-run',
    'turn-down-rerun': 'Turn a re-run down',
    'let-stand': 'Let the run stand',
    'accept-run': 'Accept a run',
    'set-aside': 'Set a run aside',
    reassign: 'Reassign a run',
    swap: 'Swap two lanes',
    void: 'Void the heat',
    'did-not-start': 'Did not start',
    'did-not-finish': 'Did not finish',
    'disqualify-heat': 'Disqualify from the heat',
    lift: 'Take a status back',
    disqualify: 'Disqualify from the division',
    withdraw: 'Withdraw',
    reinstate: 'Let an entry come back',
    penalise: 'Give a penalty',
    'let-race': 'Let it race without its checks',
  } satisfies Texts<Schema['RulingBody']['kind']>,

  reason: {
    'bench-fault': 'Bench fault',
    'missed-pulses': 'Missed pulses',
    power: 'Power failure',
    'volunteer-error': 'A mistake at the bench',
    'outside-interference': 'Somebody or something got in the way',
    'off-rollers': 'The car left the rollers',
    stalled: 'The car stalled',
    'false-start': 'False start',
    'wrong-car': 'The wrong car was on the bench',
    'not-there': 'Not there when called',
    'car-not-legal': 'The car is not legal',
    conduct: 'Conduct',
    protest: 'A protest was upheld',
    family: 'Family reasons',
    tie: 'A tie',
    time: 'Time is short',
    'benches-differ': 'The benches do not read alike',
    alarm: 'Alarm',
    lunch: 'Lunch',
    'car-changed': 'The car was changed',
    other: 'Another reason',
  } as Record<string, string>,

  decision: {
    'waiting-run': 'A run waits: accept it or set it aside',
    protest: 'A protest waits: uphold it or turn it down',
    'not-there': 'The call is over and a car is not ready',
    tie: 'A tie that has to be decided',
    'rerun-asked': 'A bench asks for a re-run',
    'doubtful-run': 'A run is in doubt: is a re-run due?',
    'close-round': 'A round can be closed',
    'draw-round': 'The next round can be drawn',
    'few-runs': 'Somebody would go home with fewer races than promised',
    'seed-order': 'A division waits for its seed order',
    publish: 'The programme is through: publish the results',
    'outdated-draw': 'A draw stands on a result that has changed',
    'overdue-run': 'A run should have come by now',
    'bench-out': 'A bench is out of service',
    'publish-again': 'Published results have changed: publish a correction',
    decider: 'A result is too close to call at a line that matters',
    'runs-in-doubt': 'A reference check found that a bench has moved',
    'whole-heat': 'One cause hit half of a heat or more',
    'podium-check': 'A car on the podium is held: inspect it again',
    'repair-late': 'The time to put a car right is over',
    'packs-missing': 'Battery packs of the club did not come back',
  } as Record<string, string>,

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

  /** What a heat decides beside who goes on. */
  heatPurpose: {
    final: 'Final',
    'second-final': 'Second final',
    'third-place': 'Race for third place',
    'plate-final': 'Plate final',
    'b-final': 'B-final',
  } satisfies Texts<Schema['HeatPurpose']>,

  laneDesign: {
    latin: 'Latin square',
    williams: 'Williams square',
    youden: 'Youden square',
    balanced: 'Balanced design',
    near: 'No design fits; the rounds are dealt as evenly as was found',
  } satisfies Texts<Schema['LaneDesign']['kind']>,

  heatOrder: {
    zigzag: 'Across and back',
    circle: 'The best in different heats',
  } satisfies Texts<NonNullable<Schema['StageBody']['heat_order']>>,
  seedMethod: {
    lot: 'By lot',
    hand: 'By hand',
    rating: 'By rating',
    rank: 'By the stage before',
  } satisfies Texts<Schema['SeedMethod']>,

  timedRule: {
    best: 'best run counts',
    mean: 'mean of the runs counts',
    median: 'middle run counts',
    sum: 'all runs added up count',
  } satisfies Texts<NonNullable<Schema['StageBody']['rule']>>,

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

  inspected: {
    'not-asked': 'Not asked for',
    none: 'Not inspected',
    passed: 'Passed',
    failed: 'Has to be put right',
    lapsed: 'Changed since it passed',
  } satisfies Texts<Schema['TableEntry']['inspected']>,

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

  rerunCounts: {
    rerun: 'The re-run counts, whatever it gives',
    better: 'The better of both counts',
    decider: 'The earlier run stays the result; the re-run orders the two',
  } satisfies Texts<NonNullable<Schema['RulingBody']['counts']>>,

  benchOrder: {
    heat: 'Heat',
    practice: 'Practice',
    free: 'Free for practice',
  } satisfies Texts<Schema['BenchOrder']['kind']>,

  /** Flags of a measurement in short; Flag.says of the API is the long sentence. */
  flag: {
    'no-signal': 'No signal',
    'cut-short': 'Cut short',
    'distance-not-reached': 'Distance not reached',
    'early-start': 'Early start',
    'no-rise': 'Full speed at once',
    'start-missed': 'First passes missed',
    bridged: 'Missed passes filled in',
    'many-bridged': 'Many passes missed',
    'many-extra': 'Many extra stamps',
    burst: 'Burst of stamps',
    'row-filled': 'Row of passes filled in',
    'stray-stamps': 'Stray stamps',
    'open-gap': 'Gap in the signal',
    stalled: 'Stalled',
    'late-end': 'Last stamp late',
    'silent-end': 'Silent before the end',
    'off-rollers': 'Left the rollers?',
    'mains-flicker': 'Lamp flicker?',
    'half-speed': 'Every second pass lost',
    'double-speed': 'Passes seen twice',
    'mark-silent': 'One mark is not seen',
    'half-of-others': 'Half of what others read',
    'double-of-others': 'Double of what others read',
    'too-fast': 'Faster than can be',
    noise: 'Noise left out',
    backwards: 'Stamps ran backwards',
    'impossible-stamp': 'Impossible stamps',
    restarted: 'Counter box restarted',
    'clock-ambiguous': 'Clock wrapped?',
    'totals-disagree': 'Totals disagree',
    'passes-lost': 'Passes lost on the cable',
    'list-cut': 'List cut short',
    'bench-factor': 'Bench factor applied',
    'no-slip-assumed': 'No slip assumed',
    'no-interval': 'How wrong, nobody knows',
  } as Record<string, string>,

  /** Why two of a Swiss round are paired and who has which bench, as parts of a sentence. */
  pairReason: {
    'same-score': 'both have the same points',
    'floats-down': 'one has more points and found no partner among equals',
    'sides-wished': 'the benches change sides for both',
    'side-of-one': 'one gets the side that it is due',
    'side-stronger': 'both are due one side, and who is due it more has it',
    'side-history': 'both are due one side as much, and change since the last round in which their sides differed',
    'side-of-first': 'both are due one side as much, and the one placed first has it',
    'side-by-number': 'neither is due a side: it goes by lot and then in turn',
    'bye-lowest': 'it is the lowest of those who may have the bye',
    'relaxed-side': 'no pairing by the rules was left, so somebody has one side too often',
    'relaxed-bye': 'no pairing by the rules was left, so somebody has a second bye',
    'relaxed-rematch': 'no pairing by the rules was left, so the two meet again',
    'top-scorers': 'in the last round a leader may have one side too often',
    'one-car': 'they share a car and run one after the other',
  } as Record<string, string>,

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
    mean: 'by the mean',
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
  plateRank: (place: number) => `${format.ordinal(place, { one: '#st', two: '#nd', few: '#rd', other: '#th' })} in the plate`,

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
