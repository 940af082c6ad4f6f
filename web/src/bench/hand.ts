/** Count is a distance that somebody counted, with its standard uncertainty, in m. */
export interface Count {
  distance: number;
  uncertainty: number;
}

/**
 * A value that may lie anywhere within an interval of this width has this part of
 * it as standard uncertainty (rectangular distribution, JCGM 100:2008, 4.3.7).
 */
const rectangular = 1 / Math.sqrt(12);

/** fromLaps takes laps counted to the nearest whole one; undefined where that is no count. */
export function fromLaps(laps: number | undefined, lapM: number): Count | undefined {
  if (laps === undefined || !Number.isInteger(laps) || laps < 1 || !(lapM > 0)) return undefined;
  return { distance: laps * lapM, uncertainty: lapM * rectangular };
}

/** fromMetres takes a distance and how far it may be off to either side. */
export function fromMetres(metres: number | undefined, give: number | undefined): Count | undefined {
  if (metres === undefined || !(metres > 0) || give === undefined || !(give > 0)) return undefined;
  return { distance: metres, uncertainty: 2 * give * rectangular };
}
