import type { Schema } from '$lib/api';

type Run = Schema['Run'];

/** RaceLine is a race of a car with its run that counts. */
export interface RaceLine {
  heat: Schema['Heat'];
  run: Run;
}

/** racesOf an entry: its runs that count, in the order of the day. */
export function racesOf(runs: readonly Run[], heats: readonly Schema['Heat'][], entry: string): RaceLine[] {
  return runs
    .flatMap((run) => {
      const heat = heats.find((h) => h.id === run.heat);
      return run.counts && run.racer?.entry === entry && heat ? [{ heat, run }] : [];
    })
    .sort((a, b) => a.run.at.localeCompare(b.run.at));
}

/** bestOf races is the furthest that a bench counted: the example to reckon with. */
export const bestOf = (races: readonly RaceLine[]): RaceLine | undefined =>
  races
    .filter((r) => r.run.source === 'bench' && r.run.figures.turns > 0 && r.run.figures.time_s)
    .toSorted((a, b) => b.run.figures.distance_m - a.run.figures.distance_m)[0];

/**
 * Sums are the steps from turns to speeds, each from what the step before gives as it is written, so that a child
 * finds the same.
 */
export interface Sums {
  turns: number;
  /** Seconds, since two digits of a minute would move the rest of a short race. */
  seconds: number;
  /** Turns of the roller a minute. */
  rpm: number;
  /** Around the roller, in mm. */
  aroundMM: number;
  /** What the bench reads over what is true; 1 where nothing is taken off. */
  factor: number;
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

/** sumsOf a run. */
export function sumsOf(run: Run, conditions: Schema['RunConditions']): Sums {
  const turns = to(1, run.figures.turns);
  const seconds = to(1, run.figures.time_s ?? 0);
  const rpm = Math.round((turns / seconds) * 60);
  const aroundMM = to(2, conditions.circumference_mm);
  const factor = to(3, conditions.factor);
  const metresPerMinute = to(1, (rpm * aroundMM) / 1000 / factor);
  const wheelMM = conditions.wheel_mm === undefined ? undefined : to(1, conditions.wheel_mm);
  const wheelAroundMM = wheelMM === undefined ? undefined : to(2, pi * wheelMM);
  return {
    turns,
    seconds,
    rpm,
    aroundMM,
    factor,
    metresPerMinute,
    kmh: to(1, (metresPerMinute * 60) / 1000),
    lapM: conditions.lap_m > 0 ? conditions.lap_m : undefined,
    laps: run.figures.laps,
    wheelMM,
    wheelAroundMM,
    wheelRPM: wheelAroundMM === undefined ? undefined : Math.round((metresPerMinute * 1000) / wheelAroundMM),
  };
}
