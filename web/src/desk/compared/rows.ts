/** Row is one bench in a plot of rows: a value, and the interval around it where one is known. */
export interface Row {
  bench: number;
  value: number | undefined;
  low?: number | undefined;
  high?: number | undefined;
}

/** Line is a value that rows are held to: zero, or a critical value. */
export interface Line {
  at: number;
  name: string;
  kind: 'zero' | 'inner' | 'outer';
}

/**
 * ticksOf are round steps of 1, 2 or 5 that cover the values, at most so many; a
 * single value gets room around it.
 */
export function ticksOf(values: readonly number[], most = 7): number[] {
  const finite = values.filter(Number.isFinite);
  let low = Math.min(...finite, 0);
  let high = Math.max(...finite, 0);
  if (high - low < 1e-9) [low, high] = [low - 1, high + 1];
  const rough = (high - low) / (most - 1);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((n) => n * power).find((s) => s >= rough - 1e-12)!;
  const ticks: number[] = [];
  for (
    let n = Math.floor(low / step + 1e-9);
    n * step < high - 1e-9 || ticks.length === 0 || ticks.at(-1)! < high - 1e-9;
    n++
  )
    ticks.push(n * step);
  return ticks;
}

/** decimalsOf is how many decimals a step of ticks needs. */
export const decimalsOf = (ticks: readonly number[]): number => {
  const step = ticks.length > 1 ? ticks[1]! - ticks[0]! : 1;
  return Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
};

/** valuesOf are all values that a plot has to have room for. */
export const valuesOf = (rows: readonly Row[], lines: readonly Line[]): number[] => [
  ...rows.flatMap((r) => [r.value, r.low, r.high].filter((v) => v !== undefined)),
  ...lines.map((l) => l.at),
];

/** beyond is the outermost line that a value passes, on its own side of zero. */
export function beyond(value: number | undefined, lines: readonly Line[]): Line | undefined {
  if (value === undefined) return undefined;
  const passed = lines.filter((l) => l.kind !== 'zero' && (l.at > 0 ? value > l.at : value < l.at));
  return passed.find((l) => l.kind === 'outer') ?? passed[0];
}
