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
  // A season has thousands of points at some dozen values: the values are put in order, not the points.
  const at = new Map<number, Point[]>();
  let noted = 0;
  for (const point of points) {
    const value = point[sort];
    if (value === undefined) continue;
    noted++;
    const there = at.get(value);
    if (there) there.push(point);
    else at.set(value, [point]);
  }
  if (noted < 3 || at.size < 2) return undefined;
  const cloud: Cloud = { xs: [], kmh: [], codes: [] };
  for (const value of [...at.keys()].sort((a, b) => a - b))
    for (const { speed_mps, code } of at.get(value)!) {
      cloud.xs.push(value);
      cloud.kmh.push(speed_mps * 3.6);
      cloud.codes.push(code);
    }
  return cloud;
}
