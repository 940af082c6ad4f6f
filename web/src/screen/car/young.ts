import { numbersOf, type RaceLine } from '$lib/run/reckon';

/** How the metres of one second lie among the whole ones. */
export type Nearness = 'exactly' | 'more' | 'half' | 'nearly';

/** YoungSum is the one sum of a sheet in whole numbers: so many metres in so many seconds, how many in one? */
export interface YoungSum {
  metres: number;
  seconds: number;
  /** Metres shared out among the seconds, and what is left over. */
  each: number;
  left: number;
  nearness: Nearness;
}

/** A time counts as whole seconds if it is no further off than that, in s: a child sees the rounded one. */
const wholeS = 0.05;

/** youngSum shares whole metres out among whole seconds; undefined where the time is not of whole seconds. */
export function youngSum(distanceM: number, timeS: number): YoungSum | undefined {
  const seconds = Math.round(timeS);
  const metres = Math.round(distanceM);
  if (seconds < 2 || Math.abs(timeS - seconds) > wholeS || metres < seconds) return undefined;
  const left = metres % seconds;
  const nearness = left === 0 ? 'exactly' : left * 2 < seconds ? 'more' : left * 2 > seconds ? 'nearly' : 'half';
  return { metres, seconds, each: (metres - left) / seconds, left, nearness };
}

/** ToReckon is a race that a young sheet can reckon with. */
export interface ToReckon {
  race: RaceLine;
  sum: YoungSum;
}

/** reckonWith picks the race that went furthest, of those that a bench counted for whole seconds. */
export function reckonWith(races: readonly RaceLine[], lapM: number | undefined): ToReckon | undefined {
  return races
    .flatMap((race) => {
      const { source, figures } = race.run;
      const sum = source === 'bench' ? youngSum(numbersOf(race, lapM).distanceM, figures.time_s ?? 0) : undefined;
      return sum ? [{ race, sum }] : [];
    })
    .toSorted((a, b) => b.sum.metres - a.sum.metres || a.race.run.at.localeCompare(b.race.run.at))[0];
}
