import type { Schema } from '$lib/api';

type Pack = Schema['Pack'];

/** PackState names a pack's state in t.desk.inspection.batteries. */
export type PackState = 'hurt' | 'aside' | 'unmeasured' | 'mayRace' | 'refused';

export function stateOf(pack: Pack): PackState {
  if (pack.hurt) return 'hurt';
  if (pack.aside) return 'aside';
  const last = pack.checks.at(-1);
  if (!last) return 'unmeasured';
  return last.accepted ? 'mayRace' : 'refused';
}

/** Point is a pack in the picture: its volts at rest and its resistance when both were last measured. */
export interface Point {
  pack: string;
  volts: number;
  mohm: number;
  kind: string;
}

/** points are the packs whose resistance is known, by their volts. */
export const points = (packs: readonly Pack[]): Point[] =>
  packs
    .flatMap((pack): Point[] => {
      const check = pack.checks.findLast((c) => c.resistance_mohm !== undefined && !c.hurt);
      return check ? [{ pack: pack.id, volts: check.open_v, mohm: check.resistance_mohm!, kind: check.chemistry }] : [];
    })
    .sort((a, b) => a.volts - b.volts || (a.pack < b.pack ? -1 : 1));
