import type { Schema } from '$lib/api';

type Plan = Schema['DayPlan'];

/** Supposed is what the day would be like otherwise, as the form holds it. */
export interface Supposed {
  /** Benches that would be out of service, by id. */
  out: readonly string[];
  pause_min: number | null;
  /** How many adults would run the benches; null for as many as now. */
  adults: number | null;
}

/** lookBody asks for just what is otherwise than the day is. */
export function lookBody(
  what: Supposed,
  benches: readonly Pick<Schema['MeetBench'], 'id' | 'out_of_service'>[],
): Schema['LookDayPlan'] {
  const out = benches.filter((b) => !b.out_of_service && what.out.includes(b.id)).map((b) => b.id);
  const back = benches.filter((b) => b.out_of_service && !what.out.includes(b.id)).map((b) => b.id);
  return {
    ...(out.length > 0 && { benches_out: out }),
    ...(back.length > 0 && { benches_back: back }),
    ...(what.pause_min && { pause_min: what.pause_min }),
    ...(what.adults && { adults: what.adults }),
  };
}

/** Clash is something that cannot go as it is supposed. */
export type Clash =
  | { code: 'wide'; heat: Plan['heats'][number]; benches: number }
  | { code: 'on'; heat: Plan['heats'][number]; bench: string };

/** clashes of a day with such benches out: called heats that stand on them, and heats with more cars than are left. */
export function clashes(
  plan: Pick<Plan, 'heats'>,
  benches: readonly { id: string }[],
  out: readonly string[],
): Clash[] {
  const left = benches.filter((b) => !out.includes(b.id)).length;
  return plan.heats.flatMap((heat): Clash[] => {
    if (heat.phase !== 'drawn')
      return heat.benches.filter((b) => out.includes(b)).map((bench) => ({ code: 'on', heat, bench }));
    return left > 0 && heat.cars.length > left ? [{ code: 'wide', heat, benches: left }] : [];
  });
}
