import type { Schema } from '$lib/api';
import { t } from '$lib/i18n';

type Division = Schema['Division'];
type Heat = Pick<Schema['Heat'], 'stage' | 'round' | 'number' | 'third_place' | 'purpose'>;

const isKnockout = (division: Division, stage: number) => division.stages[stage - 1]?.kind === 'knockout';

/**
 * heatName is what a heat is called within its division: "Round 2, heat 1",
 * "Semi-final 2". A knockout's rounds are named from its end, which is known for
 * the stage that was drawn last; `rounds` gives it for others.
 */
export function heatName(division: Division, heat: Heat, rounds = roundsOf(division, heat.stage)): string {
  if (heat.third_place) return t.screen.heatName.third;
  if (heat.purpose && !isKnockout(division, heat.stage)) return t.codes.heatPurpose[heat.purpose];
  if (isKnockout(division, heat.stage) && rounds) return t.screen.heatName.knockout(rounds - heat.round, heat.number);
  return t.screen.heatName.timed(heat.round, heat.number);
}

/** roundName is what a round is called: "Round 2", "Semi-finals". */
export function roundName(division: Division, stage: number, round: number, rounds = roundsOf(division, stage)): string {
  if (isKnockout(division, stage) && rounds) return t.screen.heatName.knockoutRound(rounds - round);
  return t.screen.heatName.timedRound(round);
}

const roundsOf = (division: Division, stage: number) => (stage === division.stage ? division.rounds_total : 0);

/** checkCode is the head of the log's hash, short enough to compare by eye: "b7c1 6150 94e6". */
export const checkCode = (head: string): string => (head.slice(0, 12).match(/.{4}/g) ?? []).join(' ');

/** plain is an address as people type it. */
export const plain = (address: string): string => address.replace(/^https?:\/\//, '').replace(/\/$/, '');

/** forPhones is the address to give to others: this page's own, unless it names only this machine. */
export function forPhones(origin: string, addresses: readonly string[]): string | undefined {
  const local = /^https?:\/\/(localhost|127\.|\[::1\])/;
  const address = local.test(origin) ? addresses.find((a) => !local.test(a)) : origin;
  return address && plain(address);
}
