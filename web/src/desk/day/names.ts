import type { Schema } from '$lib/api';
import { t } from '$lib/i18n';

type Meet = Pick<Schema['Meet'], 'divisions' | 'benches'>;
type Heat = Pick<Schema['Heat'], 'division' | 'stage' | 'round' | 'number' | 'third_place' | 'purpose'>;

export const divisionOf = (meet: Meet | undefined, id: string | undefined) => meet?.divisions.find((d) => d.id === id);

/** divisionName is the name, or the id of a division that is not known yet. */
export const divisionName = (meet: Meet | undefined, id: string) => divisionOf(meet, id)?.name ?? id;

/** roundName says which round of which stage, in the words of its format. */
export function roundName(division: Schema['Division'] | undefined, stage: number, round: number): string {
  const kind = division?.stages[stage - 1]?.kind;
  if (kind !== 'knockout') return t.round(round);
  const known = division!.stage === stage && division!.rounds_total > 0;
  return known ? t.knockoutRound(2 ** (division!.rounds_total - round + 1)) : t.desk.knockoutRound(round);
}

/** heatName is a heat within its division: "Round 2, heat 3". A final is one heat, besides the race for third. */
export function heatName(meet: Meet | undefined, heat: Heat): string {
  if (heat.third_place) return t.thirdPlace;
  const division = divisionOf(meet, heat.division);
  if (heat.purpose && division?.stages[heat.stage - 1]?.kind !== 'knockout') return t.codes.heatPurpose[heat.purpose];
  const round = roundName(division, heat.stage, heat.round);
  return isFinal(division, heat.stage, heat.round) ? round : t.desk.heatOf(round, heat.number);
}

const isFinal = (division: Schema['Division'] | undefined, stage: number, round: number) =>
  division?.stages[stage - 1]?.kind === 'knockout' && division.stage === stage && division.rounds_total === round;

/** heatTitle has the division before it. */
export const heatTitle = (meet: Meet | undefined, heat: Heat) => t.desk.inDivision(divisionName(meet, heat.division), heatName(meet, heat));

/** racerText is a racer in plain words, for options and sentences. */
export const racerText = (racer: Pick<Schema['Racer'], 'start_number' | 'display_name'>) =>
  racer.display_name ? `${racer.start_number} ${racer.display_name}` : `${racer.start_number}`;

/** slug makes an id from a name: "Harbour Hall, spring" is "harbour-hall-spring". */
export function slug(name: string, most = 40): string {
  const plain = name.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
  return plain.replace(/[^a-z0-9]+/g, '-').slice(0, most).replace(/^-+|-+$/g, '');
}

/** freeId is the slug of a name, with a number behind where the id is taken. */
export function freeId(name: string, taken: readonly string[], otherwise: string): string {
  const base = slug(name) || otherwise;
  for (let n = 1; ; n++) {
    const id = n === 1 ? base : `${base}-${n}`;
    if (!taken.includes(id)) return id;
  }
}
