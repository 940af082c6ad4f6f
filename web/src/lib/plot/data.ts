/** Series is one curve, or one cloud of points, of a plot. `xs` ascend. */
export interface Series {
  name: string;
  xs: readonly number[];
  /** A value for each x; null leaves a gap in the line. */
  ys: readonly (number | null)[];
  /** Points that belong to no line, such as cars by gear ratio. */
  points?: boolean;
  /** What each point is called in the table, for points only. */
  labels?: readonly string[];
}

/** Axis says what is counted along an edge, and in what. */
export interface Axis {
  name: string;
  /** Stands behind every number that is read out. */
  unit?: string;
  /** Decimals of the numbers that are read out. */
  decimals: number;
  /** The scale begins at nought, so that heights may be compared. */
  fromZero?: boolean;
}

/** Mark is something that happened at an x: it stands in the picture, in what is read out and in the table. */
export interface Mark {
  at: number;
  text: string;
  /** A line through the picture, or a sign at its upper edge; many signs are fine. */
  sign: 'line' | 'triangle' | 'diamond';
}

/** Stretch is the least and the greatest of something. */
export interface Stretch {
  min: number;
  max: number;
}

/** stretchX of all series and marks, with some room beside points; 0 to 1 where there is nothing. */
export function stretchX(series: readonly Series[], marks: readonly Mark[] = []): Stretch {
  const room = series.some((s) => s.points) ? 0.04 : 0;
  return stretch([...series.flatMap((s) => [s.xs[0], s.xs.at(-1)]), ...marks.map((m) => m.at)], room);
}

/**
 * stretchY of all series, with some room at the ends; where the axis says so nought is in it, and at the edge if it
 * can be.
 */
export function stretchY(series: readonly Series[], axis: Axis): Stretch {
  const values = series.flatMap((s) => [...s.ys]);
  if (!axis.fromZero) return stretch(values, 0.08);
  const own = stretch([0, ...values], 0.08);
  const known = values.filter((v) => v !== null);
  return { min: known.every((v) => v >= 0) ? 0 : own.min, max: known.some((v) => v > 0) ? own.max : 0 };
}

function stretch(values: readonly (number | null | undefined)[], room: number): Stretch {
  let min = Infinity;
  let max = -Infinity;
  for (const value of values) {
    if (value === null || value === undefined || !Number.isFinite(value)) continue;
    min = Math.min(min, value);
    max = Math.max(max, value);
  }
  if (min > max) return { min: 0, max: 1 };
  if (min === max)
    return { min: min - Math.max(0.5, Math.abs(min) * 0.1), max: max + Math.max(0.5, Math.abs(max) * 0.1) };
  const more = (max - min) * room;
  return { min: min - more, max: max + more };
}

/**
 * valueAt is the height of a series at an x: of a line between its two nearest
 * values, of points the one that stands there. Null outside, and in a gap.
 */
export function valueAt(series: Series, x: number): number | null {
  const { xs, ys } = series;
  let low = 0;
  let high = xs.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (xs[middle]! < x) low = middle + 1;
    else high = middle;
  }
  if (xs[low] === x) return ys[low] ?? null;
  if (series.points || low === 0 || low === xs.length) return null;
  const [before, after] = [ys[low - 1] ?? null, ys[low] ?? null];
  if (before === null || after === null) return null;
  return before + ((after - before) * (x - xs[low - 1]!)) / (xs[low]! - xs[low - 1]!);
}

/**
 * aligned puts all series over one row of xs, as the plotting library wants it:
 * undefined where only another series has an x, null where its line has a gap.
 */
export function aligned(series: readonly Series[]): [number[], ...(number | null | undefined)[][]] {
  const xs = [...new Set(series.flatMap((s) => [...s.xs]))].sort((a, b) => a - b);
  const at = new Map(xs.map((x, i) => [x, i]));
  const columns = series.map((s) => {
    const column = new Array<number | null | undefined>(xs.length).fill(undefined);
    s.xs.forEach((x, i) => (column[at.get(x)!] = s.ys[i] ?? null));
    return column;
  });
  return [xs, ...columns];
}

/** ticks are about so many round numbers within a stretch, steps of 1, 2 or 5 and no finer than so many decimals. */
export function ticks({ min, max }: Stretch, about = 6, decimals = 9): number[] {
  const rough = Math.max((max - min) / Math.max(1, about), max > min ? 10 ** -decimals : 0);
  if (!(rough > 0)) return [min];
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5, 10].find((n) => n * power >= rough * 0.999) ?? 10);
  const out: number[] = [];
  for (let n = Math.ceil(min / step - 1e-9); n * step <= max + step * 1e-9; n++)
    out.push(Number((n * step).toPrecision(12)));
  return out;
}

/** decimalsOf ticks: as many as tell them apart. */
export function decimalsOf(of: readonly number[]): number {
  const step = of.length > 1 ? of[1]! - of[0]! : 1;
  return Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
}

/** Row is a line of the table behind a plot. */
export interface Row {
  x: number;
  label?: string;
  values: (number | null)[];
}

/**
 * rows of the table: lines are read off at round places, about two dozen, as
 * nobody reads a thousand; points stand all there, one a row.
 */
export function rows(series: readonly Series[], about = 24): Row[] {
  if (series.some((s) => s.points)) {
    return series
      .flatMap((s, of) =>
        s.xs.map((x, i) => ({
          x,
          ...(s.labels?.[i] !== undefined && { label: s.labels[i] }),
          values: series.map((_, n) => (n === of ? (s.ys[i] ?? null) : null)),
        })),
      )
      .sort((a, b) => a.x - b.x);
  }
  return ticks(stretchX(series), about)
    .map((x) => ({ x, values: series.map((s) => valueAt(s, x)) }))
    .filter((row) => row.values.some((v) => v !== null));
}

/** stops are where the arrow keys go: every x of the series, at most about so many. */
export function stops(series: readonly Series[], most = 400): number[] {
  const xs = aligned(series)[0];
  const every = Math.max(1, Math.ceil(xs.length / most));
  return xs.filter((_, i) => i % every === 0 || i === xs.length - 1);
}

/** near is the place in ascending numbers that is nearest to x. */
export function near(xs: readonly number[], x: number): number {
  let best = 0;
  for (let i = 1; i < xs.length; i++) if (Math.abs(xs[i]! - x) < Math.abs(xs[best]! - x)) best = i;
  return best;
}

/** byText gathers marks that say the same, in order of their first: "a pass filled in" with its times. */
export function byText(marks: readonly Mark[]): { text: string; sign: Mark['sign']; at: number[] }[] {
  const out = new Map<string, { text: string; sign: Mark['sign']; at: number[] }>();
  for (const mark of [...marks].sort((a, b) => a.at - b.at)) {
    const of = out.get(mark.text) ?? { text: mark.text, sign: mark.sign, at: [] };
    of.at.push(mark.at);
    out.set(mark.text, of);
  }
  return [...out.values()];
}
