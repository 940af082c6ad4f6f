import type { Schema } from '$lib/api';
import { runTexts } from '$lib/i18n/run';
import { valueAt, type Mark, type Series } from '$lib/plot/data';

export type Curve = Schema['RunCurve'];

const kmhPerMps = 3.6;

/** A line is broken where the speed was not known for so many samples. */
const gap = 3;

/**
 * speedOf a run over time, in s and km/h, broken where nothing was known; `factor` is what its reading is divided by
 * for the result.
 */
export function speedOf(curve: Pick<Curve, 'samples' | 'every_s'>, name: string, factor = 1): Series {
  const xs: number[] = [];
  const ys: (number | null)[] = [];
  for (const sample of curve.samples) {
    const before = xs.at(-1);
    if (before !== undefined && sample.at_s - before > gap * curve.every_s) {
      xs.push((before + sample.at_s) / 2);
      ys.push(null);
    }
    xs.push(sample.at_s);
    ys.push((sample.speed_mps / factor) * kmhPerMps);
  }
  return { name, xs, ys };
}

/** marksOf a run: its start and end, when it had come up to speed, and what was put right. */
export function marksOf(curve: Pick<Curve, 'to_s' | 'conditions' | 'full_speed' | 'corrections'>): Mark[] {
  const out: Mark[] = [];
  if (curve.conditions)
    out.push({ at: 0, text: curve.conditions.start_source ? runTexts.startMark : runTexts.firstMark, sign: 'line' });
  if (curve.full_speed) out.push({ at: curve.full_speed.at_s, text: runTexts.fullMark, sign: 'line' });
  if (curve.to_s !== undefined) out.push({ at: curve.to_s, text: runTexts.endMark, sign: 'line' });
  for (const each of curve.corrections)
    out.push({
      at: each.at_s,
      text: runTexts.correction[each.kind],
      sign: each.kind === 'extra' ? 'triangle' : 'diamond',
    });
  return out;
}

/** differenceOf two curves: how much quicker the first is at each of its times that both have. */
export function differenceOf(a: Series, b: Series, name: string): Series {
  const xs: number[] = [];
  const ys: (number | null)[] = [];
  a.xs.forEach((x, i) => {
    const other = valueAt(b, x);
    const own = a.ys[i] ?? null;
    if (own === null || other === null) {
      if (xs.length > 0 && ys.at(-1) !== null) {
        xs.push(x);
        ys.push(null);
      }
      return;
    }
    xs.push(x);
    ys.push(own - other);
  });
  return { name, xs, ys };
}

/** RunChoice is a run that may be laid over another one. */
export interface RunChoice {
  id: string;
  text: string;
  sameCar: boolean;
}

/** choices of runs to compare one with: those of the same racer first, each in the order of the day. */
export function choices(
  runs: readonly Schema['Run'][],
  run: Pick<Schema['Run'], 'id' | 'racer'>,
  text: (run: Schema['Run']) => string,
): RunChoice[] {
  return runs
    .filter((other) => other.id !== run.id && other.trace)
    .map((other) => ({
      id: other.id,
      text: text(other),
      sameCar: run.racer !== undefined && other.racer?.entry === run.racer.entry,
    }))
    .sort((a, b) => Number(b.sameCar) - Number(a.sameCar));
}

/** unequal says whether two runs did not last equally long, so that their distances do not compare. */
export const unequal = (a: Pick<Curve, 'to_s'>, b: Pick<Curve, 'to_s'>): boolean =>
  a.to_s !== undefined && b.to_s !== undefined && Math.abs(a.to_s - b.to_s) > 0.5;
