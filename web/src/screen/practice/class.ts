import type { Schema } from '$lib/api';

type Point = Schema['ClassPoint'];

/** Sort is what a speed is held against in a plot of the class. */
export type Sort = 'ratio' | 'volts' | 'wheel_mm' | 'mass_g';

/** Cloud is the points of a plot: what it is held against ascends. */
export interface Cloud {
  xs: number[];
  kmh: number[];
  codes: string[];
}

/**
 * cloudOf has the points of which something is noted; undefined where that is the same in all of them, or fewer than
 * three: nothing could be seen.
 */
export function cloudOf(points: readonly Point[], sort: Sort): Cloud | undefined {
  const noted = points.filter((one) => one[sort] !== undefined).sort((a, b) => a[sort]! - b[sort]!);
  if (noted.length < 3 || noted[0]![sort] === noted.at(-1)![sort]) return undefined;
  return {
    xs: noted.map((one) => one[sort]!),
    kmh: noted.map((one) => one.speed_mps * 3.6),
    codes: noted.map((one) => one.code),
  };
}
