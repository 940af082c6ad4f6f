import type { Schema } from '$lib/api';
import type { Curve } from './curve';
import { numbersOf, penaltyOf, raceOf, sumsOf, type Sums } from './reckon';

type Run = Pick<Curve, 'run' | 'heat' | 'conditions'>;

/** Shown are the figures of a run as its result has them, before any penalty. */
export interface Shown {
  /** What the bench's reading is divided by for the result; 1 where it is not corrected. */
  factor: number;
  distanceM: number;
  /** Standard uncertainty of the distance in m; undefined where ± does not say it, see interval. */
  u: number | undefined;
  laps: number;
  meanMps: number;
  interval: Pick<Schema['Figures'], 'distance_m' | 'u_distance_m' | 'distance_low_m' | 'distance_high_m' | 'flags'>;
  penalty: Sums['penalty'];
  corrections: Schema['NumberedCorrection'][];
  /** Turns of the wheel a minute, by the sums of the car's sheet; undefined where nobody knows its size. */
  wheelRPM: number | undefined;
}

/** shownOf a run that its heat may have a lane for; what is in no heat is shown as it was read. */
export function shownOf({ run, heat, conditions }: Run): Shown {
  const { figures } = run;
  const race = heat ? raceOf(run, heat) : { run, lane: undefined, corrected: 1 };
  const lane = race.corrected === 1 ? undefined : race.lane;
  const numbers = numbersOf(race, conditions?.lap_m || undefined);
  const less = lane?.penalty_m ?? 0;
  const interval = lane
    ? {
        distance_m: numbers.distanceM,
        u_distance_m: lane.u_distance_m,
        ...(lane.distance_low_m !== undefined && { distance_low_m: lane.distance_low_m + less }),
        ...(lane.distance_high_m !== undefined && { distance_high_m: lane.distance_high_m + less }),
        flags: figures.flags,
      }
    : figures;
  return {
    factor: race.corrected,
    distanceM: numbers.distanceM,
    u: interval.distance_low_m === undefined ? interval.u_distance_m : undefined,
    laps: numbers.laps,
    meanMps: numbers.speedMps ?? figures.mean_speed_mps / race.corrected,
    interval: interval as Shown['interval'],
    penalty: penaltyOf(race),
    corrections: race.lane?.corrections ?? [],
    wheelRPM: conditions && figures.time_s ? sumsOf(race, conditions).wheelRPM : figures.wheel_mean_rpm,
  };
}
