import type { Schema } from '$lib/api';

type Run = Schema['Run'];

/** RaceLine is a race of a car with its run that counts. */
export interface RaceLine {
  heat: Schema['Heat'];
  run: Run;
  /** The lane that the run counts for; undefined where the heat has none of it. */
  lane: Schema['Lane'] | undefined;
  /** What the bench's reading is divided by for the result; 1 where it is not corrected. */
  corrected: number;
}

/** Reckoned is all that the numbers of a race are made of; a practice run is in no heat. */
type Reckoned = Omit<RaceLine, 'heat'>;

/** Numbers of a race, all of them from its one distance: as far as the car went, before any penalty. */
export interface Numbers {
  distanceM: number;
  laps: number;
  /** Undefined where no time was measured. */
  speedMps: number | undefined;
}

/** numbersOf a race; `lapM` is how long a lap is, where that is known. */
export function numbersOf({ run, lane, corrected }: Reckoned, lapM: number | undefined): Numbers {
  const { distance_m, laps, mean_speed_mps } = run.figures;
  const speedMps = mean_speed_mps ? mean_speed_mps / corrected : undefined;
  if (corrected === 1) return { distanceM: distance_m, laps, speedMps };
  const distanceM = lane?.distance_m === undefined || lane.penalty_m ? distance_m / corrected : lane.distance_m;
  return { distanceM, laps: lapM ? Math.floor(distanceM / lapM + 1e-9) : Math.floor(laps / corrected), speedMps };
}

/** raceOf a run: its heat and lane, and what its reading is divided by. */
export function raceOf(run: Run, heat: Schema['Heat']): RaceLine {
  const lane = heat.lanes?.find((l) => l.run === run.id);
  return { heat, run, lane, corrected: (lane?.as_read_m !== undefined && lane.factor) || 1 };
}

/** racesOf an entry: its runs that count, in the order of the day. */
export function racesOf(runs: readonly Run[], heats: readonly Schema['Heat'][], entry: string): RaceLine[] {
  return runs
    .flatMap((run) => {
      const heat = heats.find((h) => h.id === run.heat);
      if (!run.counts || run.racer?.entry !== entry || !heat) return [];
      return [raceOf(run, heat)];
    })
    .sort((a, b) => a.run.at.localeCompare(b.run.at));
}

/** bestOf races is the furthest that a bench counted: the example to reckon with. */
export const bestOf = (races: readonly RaceLine[]): RaceLine | undefined =>
  races
    .filter((r) => r.run.source === 'bench' && r.run.figures.turns > 0 && r.run.figures.time_s)
    .toSorted((a, b) => b.run.figures.distance_m / b.corrected - a.run.figures.distance_m / a.corrected)[0];

/**
 * Sums are the steps from turns to speeds, each from what the step before gives as it is written, so that a child
 * finds the same; they end in the distance of the result, which has all digits that it needs.
 */
export interface Sums {
  turns: number;
  /** Seconds, since two digits of a minute would move the rest of a short race. */
  seconds: number;
  /** Turns of the roller a minute. */
  rpm: number;
  /** Around the roller, in mm. */
  aroundMM: number;
  /** What the bench reads over what is true, with its correction; 1 where nothing is taken off. */
  factor: number;
  /** The same as they are needed for the distance of the result. */
  exact: { turns: number; aroundMM: number; factor: number };
  /** As far as the car went, as its race has it. */
  distanceM: number;
  /** What a ruling took off, in m, and what is left: the result as the standings have it; undefined for none. */
  penalty: { m: number; resultM: number } | undefined;
  metresPerMinute: number;
  kmh: number;
  lapM: number | undefined;
  laps: number;
  wheelMM: number | undefined;
  /** Around the wheel, in mm. */
  wheelAroundMM: number | undefined;
  wheelRPM: number | undefined;
}

const to = (decimals: number, value: number) => Math.round(value * 10 ** decimals) / 10 ** decimals;

/**
 * pi with so many digits that the sum gives the wheel's turns as the run's page has them: 3.14 is 4 turns of 8,700
 * off.
 */
export const pi = 3.1416;

/** penaltyOf a race is what a ruling took off and what it left; undefined for none. */
export function penaltyOf({ lane }: Pick<RaceLine, 'lane'>): Sums['penalty'] {
  return lane?.penalty_m && lane.distance_m !== undefined ? { m: lane.penalty_m, resultM: lane.distance_m } : undefined;
}

/** sumsOf a race. */
export function sumsOf(race: Reckoned, conditions: Schema['RunConditions']): Sums {
  const { run } = race;
  const lapM = conditions.lap_m > 0 ? conditions.lap_m : undefined;
  const numbers = numbersOf(race, lapM);
  const turns = to(1, run.figures.turns);
  const seconds = to(1, run.figures.time_s ?? 0);
  const rpm = Math.round((turns / seconds) * 60);
  const aroundMM = to(2, conditions.circumference_mm);
  const read = conditions.factor * race.corrected;
  const factor = to(4, read);
  const metresPerMinute = to(1, (rpm * aroundMM) / 1000 / factor);
  const wheelMM = conditions.wheel_mm === undefined ? undefined : to(1, conditions.wheel_mm);
  const wheelAroundMM = wheelMM === undefined ? undefined : to(2, pi * wheelMM);
  return {
    turns,
    seconds,
    rpm,
    aroundMM,
    factor,
    exact: {
      turns: to(2, run.figures.turns),
      aroundMM: to(4, conditions.circumference_mm),
      factor: to(6, read),
    },
    distanceM: numbers.distanceM,
    penalty: penaltyOf(race),
    metresPerMinute,
    kmh: numbers.speedMps === undefined ? to(1, (metresPerMinute * 60) / 1000) : to(1, numbers.speedMps * 3.6),
    lapM,
    laps: numbers.laps,
    wheelMM,
    wheelAroundMM,
    wheelRPM: wheelAroundMM === undefined ? undefined : Math.round((metresPerMinute * 1000) / wheelAroundMM),
  };
}
