import type { Schema } from '$lib/api';
import { t } from '$lib/i18n';
import { codes } from '$lib/i18n/codes';
import { heatTexts } from '$lib/i18n/heats';

type Division = Schema['Division'];
/** Where a round stands in the draw of its stage, as far as there is one. */
type Where = Pick<Schema['BracketRound'], 'part' | 'rounds_left' | 'part_round'>;
type Heat = Where & Pick<Schema['Heat'], 'stage' | 'round' | 'number' | 'third_place' | 'purpose' | 'leg' | 'group'>;

const kindOf = (division: Division | undefined, stage: number) => division?.stages[stage - 1]?.kind;
const isKnockout = (division: Division | undefined, stage: number) => kindOf(division, stage) === 'knockout';

// A knockout's rounds are named from its end, which the server tells of every
// drawn stage; without that the number of rounds of the last one serves.
const roundsOf = (division: Division | undefined, stage: number) =>
  stage === division?.stage ? division.rounds_total : 0;
const left = (where: Where, round: number, rounds: number) => where.rounds_left ?? (rounds ? rounds - round + 1 : 0);

/**
 * roundName is what a round is called: "Round 2", "Semi-finals", "Plate: Final", "Losers’ round 3".
 * `rounds` is how many the stage has, where that is known.
 */
export function roundName(
  division: Division | undefined,
  stage: number,
  round: number,
  rounds = roundsOf(division, stage),
  where: Where = {},
): string {
  if (where.part === 'winners') return heatTexts.winnersRound(where.part_round ?? round);
  if (where.part === 'losers') return heatTexts.losersRound(where.part_round ?? round);
  // Behind the rounds of winners and losers lie the final, and a second one that may be needed.
  if (kindOf(division, stage) === 'double-elimination' && where.rounds_left)
    return codes.heatPurpose[where.part_round === 1 ? 'final' : 'second-final'];
  if (!isKnockout(division, stage)) return t.round(round);
  const after = left(where, round, rounds);
  const name = after ? heatTexts.knockoutRound(2 ** after) : heatTexts.knockoutRoundOf(round);
  return where.part === 'plate' ? heatTexts.inPlate(name) : name;
}

/**
 * heatName is what a heat is called within its division: "Round 2, heat 1",
 * "Semi-final 2, leg 1", "Group B: Round 1, heat 3". A final is one heat, besides the race for third.
 */
export function heatName(division: Division | undefined, heat: Heat, rounds = roundsOf(division, heat.stage)): string {
  const name = nameOf(division, heat, rounds);
  const whole = heat.group ? heatTexts.inGroup(heat.group, name) : name;
  return heat.leg ? heatTexts.legOf(whole, heat.leg) : whole;
}

function nameOf(division: Division | undefined, heat: Heat, rounds: number): string {
  if (heat.third_place) return t.thirdPlace;
  const knockout = isKnockout(division, heat.stage);
  if (heat.purpose && !knockout) return codes.heatPurpose[heat.purpose];
  const round = roundName(division, heat.stage, heat.round, rounds, heat);
  return knockout && left(heat, heat.round, rounds) === 1 ? round : heatTexts.heatOf(round, heat.number);
}

/** matchKey names all legs of a heat together where names stand by heat: who wins them goes on. */
export const matchKey = (heat: string) => `${heat} in all`;

/** racerText is a racer in plain words, for options and sentences. */
export const racerText = (racer: Pick<Schema['Racer'], 'start_number' | 'display_name'>) =>
  racer.display_name ? `${racer.start_number} ${racer.display_name}` : `${racer.start_number}`;

/** checkCode is the head of the log's hash, short enough to compare by eye: "b7c1 6150 94e6". */
export const checkCode = (head: string): string => (head.slice(0, 12).match(/.{4}/g) ?? []).join(' ');

export { inHeat } from './in-heat';
