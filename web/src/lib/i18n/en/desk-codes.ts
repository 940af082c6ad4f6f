import type { components } from '$lib/api/schema.gen';
import type { Texts } from './texts';

type Schema = components['schemas'];

/** The words for codes that only the desk shows. */
export const deskCodes = {
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
    'official-wanted': 'A bench asks for an official',
    'bench-out': 'A bench is out of service',
    'publish-again': 'Published results have changed: publish a correction',
    decider: 'A result is too close to call at a line that matters',
    'runs-in-doubt': 'A reference check found that a bench has moved',
    'whole-heat': 'One cause hit half of a heat or more',
    'podium-check': 'A car on the podium is held: inspect it again',
    'repair-late': 'The time to put a car right is over',
    'packs-missing': 'Battery packs of the club did not come back',
  } as Record<string, string>,

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

  inspected: {
    'not-asked': 'Not asked for',
    none: 'Not inspected',
    passed: 'Passed',
    failed: 'Has to be put right',
    lapsed: 'Changed since it passed',
  } satisfies Texts<Schema['TableEntry']['inspected']>,

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
    'sides-wished': 'both change to the other bench',
    'side-of-one': 'one of them changes to the other bench',
    'side-stronger': 'both should change to the same bench, and who has waited longer does',
    'side-history': 'both should change to the same bench, and do as when they last had different ones',
    'side-of-first': 'both should change to the same bench, and the one placed first does',
    'side-by-number': 'neither has to change its bench: it goes by lot and then in turn',
    'bye-lowest': 'it is the lowest of those who may have the bye',
    'relaxed-side': 'no pairing by the rules was left, so somebody has the same bench too often',
    'relaxed-bye': 'no pairing by the rules was left, so somebody has a second bye',
    'relaxed-rematch': 'no pairing by the rules was left, so the two meet again',
    'top-scorers': 'in the last round a leader may have the same bench too often',
    'one-car': 'they share a car and run one after the other',
  } as Record<string, string>,
};
