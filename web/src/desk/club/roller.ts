import type { Schema } from '$lib/api';

/** How a circumference is known: from elsewhere, rolled along a tape, or measured across. */
export type Way = 'known' | 'rolled' | 'caliper';

/** Roller is what is typed of a roller in all ways; the chosen one counts. */
export interface Roller {
  way: Way;
  known: { circumference_mm: number | null; circumference_u_mm: number | null };
  rolled: { turns: number | null; length_mm: number | null; within_mm: number | null };
  caliper: { diameter_mm: number | null; within_mm: number | null };
}

/** rollerOf is that of a bench; without one, what is usual. */
export function rollerOf(bench: Partial<Schema['Bench']> | undefined): Roller {
  return {
    way: bench?.rolled ? 'rolled' : bench?.caliper ? 'caliper' : 'known',
    known: {
      circumference_mm: bench?.circumference_mm ?? null,
      circumference_u_mm: bench?.circumference_u_mm ?? 0.05,
    },
    rolled: { ...(bench?.rolled ?? { turns: null, length_mm: null, within_mm: 1 }) },
    caliper: { ...(bench?.caliper ?? { diameter_mm: null, within_mm: 0.05 }) },
  };
}

type Figures = Pick<Schema['Bench'], 'circumference_mm' | 'circumference_u_mm'>;
/** Settings is what the order says of the roller. */
export type Settings = Figures & Pick<Schema['BenchBody'], 'rolled' | 'caliper'>;

/** In whole µm, and nothing is known for sure: as the server reckons. */
const reckoned = (mm: number, u: number): Figures => ({
  circumference_mm: Math.round(mm * 1000) / 1000,
  circumference_u_mm: Math.max(1, Math.round(u * 1000)) / 1000,
});

/**
 * settingsOf is a roller as it is sent, with what follows from its measuring; undefined while something is missing. A
 * value that lies anywhere within ±a has the standard uncertainty a/√3 (JCGM 100:2008, 4.3.7).
 */
export function settingsOf({ way, known, rolled, caliper }: Roller): Settings | undefined {
  if (way === 'rolled') {
    const { turns, length_mm, within_mm } = rolled;
    if (!turns || length_mm === null || within_mm === null) return undefined;
    return {
      ...reckoned(length_mm / turns, within_mm / (turns * Math.sqrt(3))),
      rolled: { turns, length_mm, within_mm },
    };
  }
  if (way === 'caliper') {
    const { diameter_mm, within_mm } = caliper;
    if (diameter_mm === null || within_mm === null) return undefined;
    return {
      ...reckoned(Math.PI * diameter_mm, (Math.PI * within_mm) / Math.sqrt(3)),
      caliper: { diameter_mm, within_mm },
    };
  }
  const { circumference_mm, circumference_u_mm } = known;
  return circumference_mm === null || circumference_u_mm === null
    ? undefined
    : { circumference_mm, circumference_u_mm };
}
