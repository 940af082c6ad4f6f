import type { Schema } from '$lib/api';

/** How long a look at a signal takes, in s: as long as that of "benchmeet node --check". */
export const lookS = 12;

type Asked = Pick<Schema['BenchOrder'], 'race_s' | 'session'> & { car: number | undefined; reference: boolean };

/** A run of just that long, of no car, was asked for by nobody else: whichever phone did it, it is a look. */
const isLook = (one: Asked): boolean =>
  one.race_s === lookS && one.car === undefined && !one.reference && one.session === undefined;

/** asksForLook says whether a bench is asked to look at its signal. */
export const asksForLook = (order: Schema['BenchOrder']): boolean =>
  isLook({ ...order, car: order.start_number, reference: order.reference !== undefined });

/** wasLook says whether a practice run was a look at the signal. */
export const wasLook = (run: Schema['PracticeRun']): boolean =>
  isLook({ ...run, car: run.car_number, reference: run.reference_meet !== undefined });
