import type { Schema } from '$lib/api';
import { f, said, t } from '$lib/i18n';
import { bracketTexts } from '$lib/i18n/bracket';
import { codes } from '$lib/i18n/codes';
import { racerText, roundName } from '$lib/names';
import type { Node } from './layout';

type Round = Schema['BracketRound'];
type Heat = Schema['BracketHeat'];

/** TreeSlot is a place in a heat as the picture shows it. */
export interface TreeSlot {
  racer: Schema['Racer'] | undefined;
  /** What stands there while nobody does: "winner of 1.3". */
  open: string | undefined;
  won: boolean;
  /** Raced and did not win. */
  lost: boolean;
  /** The distance, or a status. */
  figure: string | undefined;
}

/** TreeHeat is a heat of the picture. */
export interface TreeHeat extends Node {
  /** Round and heat, "2.3", or what its stage calls it, "W2.1": what stands at places that it leads to. */
  short: string;
  slots: TreeSlot[];
  /** What to look at now: it is called, or races. */
  live: string | undefined;
  third: boolean;
  /** A second final that may not be raced. */
  ifNeeded: boolean;
}

/** TreePart is a part of a stage's draw, a column a round. */
export interface TreePart {
  part: 'main' | 'winners' | 'losers' | 'finals' | 'plate';
  columns: TreeHeat[][];
  /** What each round is called, by the first heat in its column. */
  titles: Map<string, string>;
}

/** hasTree says whether a stage is drawn as a tree of heats of two. */
export const hasTree = (kind: string | undefined): boolean => kind === 'knockout' || kind === 'double-elimination';

/** short of a heat's id, "junior-2.1.3", is its round and heat, "1.3". */
export const short = (id: string): string => id.split('.').slice(-2).join('.');

/**
 * partsOf a stage's rounds: one of a knockout and one of its plate; of a double elimination the winners', the losers'
 * and the finals.
 */
export function partsOf(division: Schema['Division'], rounds: readonly Round[]): TreePart[] {
  const own = (part: string | undefined) => rounds.filter((r) => (r.part ?? '') === (part ?? ''));
  const labels = labelsOf(rounds);
  const out: TreePart[] = isDouble(rounds)
    ? [
        part('winners', division, own('winners'), labels),
        part('losers', division, own('losers'), labels),
        part('finals', division, own(undefined), labels),
      ]
    : [part('main', division, own(undefined), labels), part('plate', division, own('plate'), labels)];
  return out.filter((p) => p.columns.length > 0);
}

const isDouble = (rounds: readonly Round[]) => rounds.some((r) => r.part === 'winners' || r.part === 'losers');

/**
 * labelsOf the heats of a stage, by their ids. Winners and losers of a double elimination have rounds of their own,
 * so that a number alone would not say which.
 */
function labelsOf(rounds: readonly Round[]): Map<string, string> {
  const double = isDouble(rounds);
  return new Map(
    rounds.flatMap((round) =>
      round.heats.map((heat, i): [string, string] => {
        const [of, number] = [round.part_round ?? round.round, heat.number ?? i + 1];
        if (round.part === 'winners') return [heat.id, bracketTexts.winnersHeat(of, number)];
        if (round.part === 'losers') return [heat.id, bracketTexts.losersHeat(of, number)];
        return [heat.id, double ? codes.heatPurpose[of === 1 ? 'final' : 'second-final'] : short(heat.id)];
      }),
    ),
  );
}

function part(
  name: TreePart['part'],
  division: Schema['Division'],
  rounds: readonly Round[],
  labels: Map<string, string>,
): TreePart {
  const titles = new Map<string, string>();
  const columns = rounds.map((round) => {
    // The race for third place stands under the final.
    const heats = [...round.heats].sort((a, b) => Number(a.third_place ?? false) - Number(b.third_place ?? false));
    // The legs of two that race several times are one heat of the picture.
    const made = heats
      .filter((heat) => (heat.leg ?? 1) === 1)
      .map((heat) =>
        treeHeat(
          heat,
          heat.leg
            ? heats.filter((h) => h.number === heat.number && (h.third_place ?? false) === (heat.third_place ?? false))
            : [heat],
          rounds.slice(0, rounds.indexOf(round)),
          labels,
        ),
      );
    // The part's own title says whose rounds they are.
    const title =
      name === 'winners' || name === 'losers'
        ? t.round(round.part_round ?? round.round)
        : roundName(division, round.stage, round.round, rounds.length, round);
    for (const heat of made) titles.set(heat.id, title);
    return made;
  });
  return { part: name, columns, titles };
}

function treeHeat(heat: Heat, legs: readonly Heat[], before: readonly Round[], labels: Map<string, string>): TreeHeat {
  const live = legs.map(racedOf).find((h) => h?.phase === 'called' || h?.phase === 'racing');
  const raced = racedOf(heat);
  const wins = (entry: string | undefined) => legs.filter((leg) => wonBy(leg, entry)).length;
  const winsOfOthers = (entry: string | undefined) =>
    legs.filter((leg) => leg.slots.some((s) => s.racer && s.racer.entry !== entry && wonBy(leg, s.racer.entry))).length;
  const over = legs.every((leg) => isOver(racedOf(leg)));
  const alone = heat.slots.some((s) => s.nobody);
  return {
    id: heat.id,
    short: labels.get(heat.id) ?? short(heat.id),
    sources: heat.slots.map((slot) => sourceOf(slot, before)),
    live: live && codes.phase[live.phase],
    third: heat.third_place ?? false,
    ifNeeded: heat.if_needed ?? false,
    slots: heat.slots.map((slot) => {
      const lane = raced?.lanes.find((l) => l.racer.entry === slot.racer?.entry);
      const entry = slot.racer?.entry;
      const won = entry !== undefined && over && (alone || wins(entry) > winsOfOthers(entry));
      return {
        racer: slot.racer,
        open: slot.racer ? undefined : openText(slot, labels),
        won,
        // Level legs wait for their decider.
        lost: over && slot.racer !== undefined && !won && winsOfOthers(entry) > wins(entry),
        figure: heat.leg
          ? bracketTexts.legsWon(wins(entry))
          : lane?.status
            ? said(codes.status, lane.status)
            : lane?.distance_m === undefined
              ? undefined
              : t.units.with(f.measured(lane.distance_m, lane.u_distance_m).value, t.units.m),
      };
    }),
  };
}

const racedOf = (heat: Heat) => (heat.heat && heat.heat.lanes.length > 0 ? heat.heat : undefined);
const isOver = (raced: Heat['heat']) => raced?.phase === 'provisional' || raced?.phase === 'official';
const wonBy = (heat: Heat, entry: string | undefined) =>
  isOver(racedOf(heat)) && racedOf(heat)!.lanes.some((l) => l.racer.entry === entry && l.place === 1);

/** sourceOf a place: the heat of the same part that it waits for, or that its racer came from. */
function sourceOf(slot: Schema['BracketSlot'], before: readonly Round[]): string | undefined {
  if (!slot.racer) return slot.winner_of;
  for (const round of before.toReversed()) {
    const heat = round.heats.find((h) => !h.third_place && h.slots.some((s) => s.racer?.entry === slot.racer!.entry));
    if (heat) return round.heats.find((h) => h.number === heat.number && h.leg === 1 && !h.third_place)?.id ?? heat.id;
  }
  return undefined;
}

function openText(slot: Schema['BracketSlot'], labels: Map<string, string>): string {
  const label = (id: string) => labels.get(id) ?? short(id);
  if (slot.nobody) return bracketTexts.rounds.nobody;
  if (slot.winner_of) return bracketTexts.rounds.winnerOf(label(slot.winner_of));
  if (slot.loser_of) return bracketTexts.rounds.loserOf(label(slot.loser_of));
  return bracketTexts.rounds.open;
}

/** heatWords is a heat of the picture as a sentence, for those who do not see it. */
export function heatWords(heat: TreeHeat): string {
  const places = heat.slots.map((slot) => {
    const who = slot.racer ? racerText(slot.racer) : slot.open!;
    return [who, slot.won && bracketTexts.rounds.won, slot.figure].filter(Boolean).join(', ');
  });
  return bracketTexts.words(
    heat.short,
    places,
    heat.third ? t.thirdPlace : heat.ifNeeded ? bracketTexts.ifNeeded : undefined,
  );
}
