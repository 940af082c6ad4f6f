import type { Schema } from '$lib/api';
import { f, t } from '$lib/i18n';
import { heatName, racerText } from '$lib/names';

type Meet = Pick<Schema['Meet'], 'divisions' | 'benches'>;
type Heat = Pick<Schema['Heat'], 'division' | 'stage' | 'round' | 'number' | 'third_place' | 'purpose'>;

type NamedHeat = Heat & Pick<Schema['Heat'], 'id'>;

export const divisionOf = (meet: Meet | undefined, id: string | undefined) => meet?.divisions.find((d) => d.id === id);

/** divisionName is the name, or the id of a division that is not known yet. */
export const divisionName = (meet: Meet | undefined, id: string) => divisionOf(meet, id)?.name ?? id;

/** heatTitle is a heat with its division before it: "Juniors: Round 2, heat 3". */
export const heatTitle = (meet: Meet | undefined, heat: Heat) =>
  t.inDivision(divisionName(meet, heat.division), heatName(divisionOf(meet, heat.division), heat));

type Run = Pick<Schema['Run'], 'at' | 'bench_number' | 'heat' | 'racer'>;

/**
 * runTitle is what a run is called: "Juniors: Round 2, heat 3, 7 Rocket" by its lane, "Bench 4, 10:04:05" where
 * it is of none.
 */
export const runTitle = (meet: Meet | undefined, heats: readonly NamedHeat[] | undefined, run: Run) => {
  const heat = heats?.find((h) => h.id === run.heat);
  const of = [heat && heatTitle(meet, heat), run.racer && racerText(run.racer)].filter(Boolean);
  if (of.length === 0) of.push(run.bench_number ? t.bench(run.bench_number) : undefined, f.timeToSecond(run.at));
  return of.filter(Boolean).join(', ');
};

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
