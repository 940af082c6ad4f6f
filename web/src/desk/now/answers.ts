import type { Schema } from '$lib/api';
import type { About } from '../ruling/asking.svelte';
import type { Kind } from '../ruling/kinds';

type Decision = Schema['Decision'];

/** Deed is an answer that is an order of its own, not a ruling. */
export type Deed =
  | 'draw'
  | 'seed'
  | 'programme'
  | 'draw-again'
  | 'let-draw-stand'
  | 'close'
  | 'publish'
  | 'back-in'
  | 'came'
  | 'protest'
  | 'hand'
  | 'inspect'
  | 'packs'
  | 'compare'
  | 'race-short'
  | 'leave-over'
  | 'call-off';

/** Text names an answer's words in t.desk.now.answers. */
export type Text =
  | 'accept'
  | 'setAside'
  | 'grant'
  | 'decider'
  | 'turnDown'
  | 'letStand'
  | 'void'
  | 'notStarted'
  | 'notFinished'
  | 'withdraw'
  | 'disqualify'
  | 'drawRest'
  | 'setClock'
  | 'correctCount'
  | 'ruleUpheld';

export type Answer = { deed: Deed } | { about: About; text: Text } | { about: About; grantFor: Schema['Racer'] };

/** waits are decisions that hold nothing up. */
const waits = ['bench-out', 'few-runs'];

/**
 * inOrder puts what does not hold anything up last: a bench that is out may stay
 * so. The rest keeps the server's order, the oldest first.
 */
export const inOrder = (decisions: readonly Decision[]): Decision[] =>
  decisions.toSorted((a, b) => Number(waits.includes(a.kind)) - Number(waits.includes(b.kind)));

/** A decision keeps its key while it waits, so that its card stays where it is. */
export const keyOf = (d: Decision): string =>
  [d.kind, d.division, d.stage, d.round, d.heat, d.racer?.entry, d.run, d.protest, d.bench]
    .map((part) => part ?? '')
    .join(' ');

/**
 * answersTo are the buttons that answer a decision, the usual one first, each with
 * the reason that is likely. What a tie needs is a re-run of every lane of `heat`, or of the
 * one lane that it names.
 */
export function answersTo(d: Decision, heat: Schema['Heat'] | undefined): Answer[] {
  const lanes = heat?.lanes ?? [];
  const byHand = lanes.some((l) => l.run === d.run && l.source === 'hand');
  const lane = { heat: d.heat, entry: d.racer?.entry, run: d.run };
  const rule = (text: Text, kind: Kind, reason?: string): Answer => ({
    text,
    about: { ...lane, kinds: [kind], reason, counts: d.counts },
  });
  switch (d.kind) {
    case 'waiting-run':
      return [rule('accept', 'accept-run'), rule('setAside', 'set-aside')];
    case 'doubtful-run':
      if (d.why?.some((n) => n.code.startsWith('run-')) && byHand) {
        return [
          rule('correctCount', 'correct-hand-count'),
          rule('grant', 'grant-rerun', d.reason),
          rule('letStand', 'let-stand', d.reason),
        ];
      }
      return asTheRulesSay(d, [
        rule('grant', 'grant-rerun', d.reason),
        rule('letStand', 'let-stand', d.reason),
        rule('void', 'void', d.reason),
        rule('notFinished', 'did-not-finish', d.reason),
      ]);
    case 'rerun-asked':
      return asTheRulesSay(
        d,
        [
          rule('grant', 'grant-rerun', d.reason),
          rule('turnDown', 'turn-down-rerun'),
          ...(d.consequence === 'rerun-heat' ? [rule('void', 'void', d.reason)] : []),
          ...(d.consequence === 'did-not-finish' ? [rule('notFinished', 'did-not-finish', d.reason)] : []),
        ],
        { ...asked, 'keep-distance': 'turn-down-rerun' },
      );
    case 'whole-heat':
      return [rule('void', 'void', d.reason)];
    case 'not-there':
      return [rule('notStarted', 'did-not-start'), rule('withdraw', 'withdraw')];
    case 'incomplete-run':
    case 'overdue-run':
      return [rule('grant', 'grant-rerun', 'bench-fault'), { deed: 'hand' }, rule('notFinished', 'did-not-finish')];
    case 'tie':
      return (heat?.lanes ?? [])
        .filter((l) => l.run && (!d.racer || l.racer.entry === d.racer.entry))
        .map((l) => ({
          grantFor: l.racer,
          about: { heat: heat!.id, entry: l.racer.entry, kinds: ['grant-rerun'], reason: 'tie' },
        }));
    case 'decider':
      return [rule('decider', 'grant-rerun', 'tie')];
    case 'protest':
      return [{ deed: 'protest' }];
    case 'close-round':
      return [{ deed: 'close' }];
    case 'draw-round':
      return [{ deed: 'draw' }];
    case 'few-runs':
      return [{ deed: 'programme' }];
    case 'seed-order':
      return [{ deed: 'seed' }];
    case 'outdated-draw':
      return [{ deed: 'draw-again' }, { deed: 'let-draw-stand' }];
    case 'publish':
    case 'publish-again':
      return [{ deed: 'publish' }];
    case 'podium-check':
    case 'repair-late':
      return [{ deed: 'inspect' }, rule('disqualify', 'disqualify', 'car-not-legal')];
    case 'packs-missing':
      return [{ deed: 'packs' }];
    case 'runs-in-doubt':
      return [{ deed: 'compare' }];
    case 'clock-ahead':
      return [rule('setClock', 'set-clock')];
    case 'official-wanted':
      return [{ deed: 'came' }];
    case 'benches-gone':
      if (d.racer) return [{ deed: 'leave-over' }, { deed: 'call-off' }];
      return [{ deed: 'race-short' }, ...(d.redraw ? [rule('drawRest', 'draw-rest')] : [])];
    case 'protest-upheld':
      return [
        {
          text: 'ruleUpheld',
          about: {
            ...lane,
            run: lanes.find((l) => l.racer.entry === d.racer?.entry)?.run,
            reason: 'protest',
            kinds: d.racer ? ['grant-rerun', 'penalise', 'disqualify-heat', 'lift', 'let-stand', 'void'] : ['void'],
          },
        },
      ];
    case 'bench-out':
      return [{ deed: 'back-in' }];
  }
  return [];
}

type Consequence = NonNullable<Decision['consequence']>;

/** What the incident table of the rules asks for, as a ruling. */
const asked = {
  'rerun-lane': 'grant-rerun',
  'rerun-heat': 'void',
  'did-not-finish': 'did-not-finish',
  'keep-distance': 'let-stand',
} as const satisfies Record<Consequence, Kind>;

/** asTheRulesSay puts first what the rules ask for; an official may still choose another. */
function asTheRulesSay(d: Decision, answers: Answer[], by: Record<Consequence, Kind> = asked): Answer[] {
  const kind = d.consequence && by[d.consequence];
  const first = (a: Answer) => 'about' in a && a.about.kinds[0] === kind;
  return [...answers.filter(first), ...answers.filter((a) => !first(a))];
}
