import { format as f } from '../format';

/** Semi-finals are several. */
const are = (round: string) => (round.endsWith('s') ? 'are' : 'is');

/** The programme of a division. */
export const programme = {
  title: 'Programme',
  none: 'There is no division yet. Add one in the plan.',
  toPlan: 'To the plan',
  divisions: 'Divisions',
  otherProgrammes: 'Other programmes for the day',
  otherProgrammesSay:
    'Would another form give the children more races, or end sooner? Programmes can be compared before the first draw.',
  otherProgrammesLook: 'Look at other programmes',

  state: {
    open: 'Entries are open.',
    closed: 'Entries are closed. The first round can be drawn.',
    drawn: (round: string) => `${round} ${are(round)} drawn.`,
    roundClosed: (round: string) => `${round} ${are(round)} official.`,
    ended: 'The division was ended before its last round. The results can be published.',
    published: (number: number) =>
      number === 1 ? 'The results are published.' : `The results are published, correction ${f.number(number - 1)}.`,
  },
  few: (who: { racer: string; runs: number }[], promised: number) =>
    `${f.list(who.map((w) => `${w.racer} (${f.plural(w.runs, { one: '# race', other: '# races' })})`))}: the programme has no more heat for them, and the rules promise ${f.plural(promised, { one: '# race', other: '# races' })}.`,
  outdated: 'The last draw stands on a result that a ruling has changed since. It is not drawn again by itself.',

  draw: 'Draw the next round',
  drawFirst: 'Draw the first round',
  changeShort: 'Change the promise or the programme',
  drawShort: 'Draw all the same',
  drawShortLabel: (division: string) => `Draw all the same: ${division}, where some may race less often than promised`,
  letStand: 'Let the draw stand',
  letStandTitle: (name: string) => `Let the last draw of ${name} stand`,
  letStandSays:
    'The cars race on as they were drawn, although a result would send others now. It is a ruling and stays in the list; if another result changes, the draw is outdated again.',
  drawAgain: 'Draw again',
  drawAgainTitle: (name: string) => `Draw the last round of ${name} again`,
  drawAgainSays:
    'The heats of the last round are thrown away and drawn from new lots. It is a ruling and stays in the list. Not possible once a heat of it was called.',
  close: 'Close the round',
  closeOf: (round: string) => `Close: ${round}`,
  closeEarly: 'Close early',
  closeEarlyTitle: 'Close the round before the protest time is over',
  closeEarlySays: 'The results become official at once and nobody can protest any more. Every heat must be posted.',
  end: 'End the division here',
  endTitle: (name: string) => `End ${name} before its last round`,
  endSays:
    'No further round is drawn. What was raced stands, and the standings as they are become the final ones. It is a ruling and cannot be taken back.',
  publish: 'Publish the results',
  publishTitle: (name: string) => `Publish the results of ${name}`,
  publishSays:
    'Everybody sees the standings as official. A later change is published as a numbered correction with its date.',

  notes: {
    'clubmates-meet': (who: string, round: number) =>
      `${who} come for one club and may meet in round ${f.number(round)} already: no better place was free.`,
    'groupmates-meet': (who: string, round: number) =>
      `${who} come from one group and may meet in round ${f.number(round)} already: no better place was free.`,
    'clubmates-in-group': (who: string, _round: number, group: string) =>
      `${who} come for one club and are in group ${group}: no better place was free.`,
    'seeds-moved': (who: string) => `${who} changed places within their seed group, so that clubmates meet late.`,
    'run-in-turn': (who: string) => `${who} share a car: when they meet, they run one after the other.`,
    'no-plate': () => 'The plate is left out: fewer than two who are beaten at once have no other heat to go to.',
    'no-third-place': () => 'The heat for third place is left out: it takes four in the knockout.',
    'no-b-final': () => 'The B-final is left out: fewer than two are left for it, or no final follows.',
    'fewer-next-best': (_who: string, round: number) =>
      `Fewer next best go on from round ${f.number(round)} than the programme says: the final has no more lanes, or nobody else ran.`,
  } as Record<string, (who: string, round: number, group: string) => string>,
  noteOther: (code: string, who: string) => `${code}: ${who}`,

  why: (reasons: string[]) => `Why: ${reasons.join('; ')}.`,
  gaveWay: (reasons: string[]) => `A rule gave way: ${reasons.join('; ')}.`,

  rounds: 'Rounds',
  roundsNone: 'Nothing is drawn yet.',
  roundClosed: 'official',
  roundOpen: 'open',
  toCome: 'to come',
  lots: (seed: string, how: string) => `Drawn by lot number ${seed}${how ? `: ${how}` : ''}.`,
  byes: 'Goes on without a race:',
  winnerOf: (heat: string) => `winner of ${heat}`,
  loserOf: (heat: string) => `loser of ${heat}`,
  nobody: 'nobody',
  openSlot: 'to be seen',
  versus: 'against',

  saveCsv: 'Save as CSV',
  standings: 'Standings',
  standingsNone: 'No standings yet. They begin with the first result.',
  final: 'Final',
  asItStands: 'As it stands now',
  changed: 'Changed since published, not official until it is published again',
  band: 'Ranked in',
  bandAll: 'All who race together',
  rank: 'Place',
  racer: 'Car',
  result: 'Result',
  exit: 'Knockout',
  decided: 'Decided',
  /** Stands before links to the curves of the runs, by their rounds. */
  curves: 'Curves',
  curvesOf: (stage: string) => `${stage}, curves`,
  curveOf: (who: string, race: string) => `Curve of ${who}, ${race}`,
  runs: 'Runs',
  tooClose: (numbers: number[]) => `too close to ${f.list(numbers.map((n) => f.number(n)))} to tell`,
  winner: 'winner',
  inIt: 'still racing',
  unranked: '–',
  checkCode: (code: string) => `Check code ${code}`,

  /** How the lanes of a stage were shared out. */
  lanes: {
    title: (stage: string) => `Lanes of ${stage.toLowerCase()}`,
    says: (design: string, cars: number, lanes: number) =>
      `${design}: ${f.number(cars)} cars in heats of ${f.number(lanes)}.`,
    what: 'What',
    least: 'Least',
    most: 'Most',
    runs: 'Runs of a car',
    meetings: 'Meetings of two cars',
    lane: 'Runs of a car in a lane',
    bench: 'Runs of a car on a bench, as planned',
    efficiency: (n: number) => `Efficiency factor ${f.number(n, 2)}: 1 would be everybody in every heat.`,
    fits: (rounds: number) =>
      `With ${f.number(rounds)} rounds, or a multiple of them, a design fits so many cars and lanes.`,
    none: 'No design is known for so many cars and lanes.',
  },

  corrections: 'Corrections',
  correctionsNone: 'No official result was changed.',
  correction: (n: number) => `Correction ${f.number(n)}`,
};
