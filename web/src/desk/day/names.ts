import type { Schema } from '$lib/api';
import { t } from '$lib/i18n';
import { heatName } from '$lib/names';

type Meet = Pick<Schema['Meet'], 'divisions' | 'benches'>;
type Heat = Pick<Schema['Heat'], 'division' | 'stage' | 'round' | 'number' | 'third_place' | 'purpose'>;

export const divisionOf = (meet: Meet | undefined, id: string | undefined) => meet?.divisions.find((d) => d.id === id);

/** divisionName is the name, or the id of a division that is not known yet. */
export const divisionName = (meet: Meet | undefined, id: string) => divisionOf(meet, id)?.name ?? id;

/** heatTitle is a heat with its division before it: "Juniors: Round 2, heat 3". */
export const heatTitle = (meet: Meet | undefined, heat: Heat) =>
  t.inDivision(divisionName(meet, heat.division), heatName(divisionOf(meet, heat.division), heat));

/** slug makes an id from a name: "Harbour Hall, spring" is "harbour-hall-spring". */
export function slug(name: string, most = 40): string {
  const plain = name.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
  return plain
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, most)
    .replace(/^-+|-+$/g, '');
}

/** freeId is the slug of a name, with a number behind where the id is taken. */
export function freeId(name: string, taken: readonly string[], otherwise: string): string {
  const base = slug(name) || otherwise;
  for (let n = 1; ; n++) {
    const id = n === 1 ? base : `${base}-${n}`;
    if (!taken.includes(id)) return id;
  }
}
