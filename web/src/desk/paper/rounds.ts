import { fingerprint, type Schema } from '$lib/api';
import { t } from '$lib/i18n';
import { roundName } from '$lib/names';

type Meet = Pick<Schema['Meet'], 'divisions'>;
type Heat = Schema['Heat'];

/** RoundOnPaper is a drawn round of a division, with its heats in the order in which they are raced. */
export interface RoundOnPaper {
  /** "DIVISION.STAGE.ROUND", as it stands in addresses. */
  key: string;
  division: Schema['Division'];
  heats: Heat[];
}

/** roundsOf are the drawn rounds of a meet: the divisions as the plan has them, their rounds as they are raced. */
export function roundsOf(meet: Meet | undefined, heats: readonly Heat[]): RoundOnPaper[] {
  return (meet?.divisions ?? []).flatMap((division) => {
    const rounds = new Map<string, Heat[]>();
    for (const heat of heats.filter((h) => h.division === division.id).toSorted(inTurn)) {
      const key = `${heat.division}.${heat.stage}.${heat.round}`;
      rounds.set(key, [...(rounds.get(key) ?? []), heat]);
    }
    return [...rounds].map(([key, heats]) => ({ key, division, heats }));
  });
}

const inTurn = (a: Heat, b: Heat) =>
  a.stage - b.stage || a.round - b.round || (a.leg ?? 0) - (b.leg ?? 0) || a.number - b.number;

/** nameOf is a round with its division: "Juniors: Semi-finals". */
export const nameOf = ({ division, heats }: RoundOnPaper): string =>
  t.inDivision(division.name, roundName(division, heats[0]!.stage, heats[0]!.round, undefined, heats[0]));

/** toRace is who of a heat has still to race. */
export const toRace = (heat: Heat): Schema['Lane'][] =>
  heat.phase === 'drawn' || heat.phase === 'called' ? heat.lanes.filter((lane) => lane.state !== 'done') : [];

const waits = (round: RoundOnPaper) => round.heats.some((heat) => toRace(heat).length > 0);

/** nextRounds are the rounds that are raced next: of each division the first in which somebody has still to race. */
export function nextRounds(rounds: readonly RoundOnPaper[]): RoundOnPaper[] {
  const seen = new Set<string>();
  return rounds.filter(waits).filter(({ division }) => !seen.has(division.id) && seen.add(division.id));
}

/** postedRounds are those with a heat that has results, the newest first. */
export const postedRounds = (rounds: readonly RoundOnPaper[]): RoundOnPaper[] =>
  rounds.filter(({ heats }) => heats.some((h) => h.posted)).toSorted((a, b) => newest(b).localeCompare(newest(a)));

const newest = ({ heats }: RoundOnPaper) => heats.flatMap((h) => h.posted ?? []).reduce((a, b) => (a > b ? a : b), '');

/** drawOf tells one draw of a round from another: drawn again, it is not on paper any more. */
export const drawOf = ({ heats }: RoundOnPaper): string =>
  fingerprint(JSON.stringify(heats.map((h) => [h.id, h.lanes.map((l) => [l.racer.entry, l.planned_bench])])));
