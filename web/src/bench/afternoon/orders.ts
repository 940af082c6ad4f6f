import type { Schema } from '$lib/api';
import { serverClock } from '$lib/live';
import type { Draft, Kind } from '../queue';

const at = (...parts: (string | number)[]) => `/api/v1/${parts.map(encodeURIComponent).join('/')}`;

const draft = (kind: Kind, path: string, bench: string, number: number | undefined, body: unknown): Draft => ({
  kind,
  path,
  body: JSON.stringify(body),
  bench,
  ...(number !== undefined && { number }),
});

/** openSession begins an afternoon on a bench. */
export const openSession = (bench: string, seconds: number): Draft =>
  draft('session', at('practice', 'sessions'), bench, undefined, {
    benches: [bench],
    race_s: seconds,
    turn: 2,
    hands_free: true,
  } satisfies Schema['PracticeSessionBody']);

/** closeSession ends it. */
export const closeSession = (bench: string, session: string): Draft =>
  draft('session', at('practice', 'sessions', session, 'close'), bench, undefined, {});

/** join puts a car into the queue; a bench that stands free takes it at once. */
export const join = (bench: string, session: string, car: number): Draft =>
  draft('queue', at('practice', 'sessions', session, 'queue'), bench, car, {
    car_number: car,
  } satisfies Schema['CarByNumber']);

/** skip lets the next car go first. */
export const skip = (bench: string, session: string, car: number): Draft =>
  draft('queue', at('practice', 'sessions', session, 'queue', car, 'skip'), bench, car, {});

/** cancel takes back a run that the bench is armed for: that one alone, however late the order comes. */
export const cancel = (bench: string, run: string | undefined, car: number | undefined): Draft =>
  draft('cancel', at('benches', bench, 'practice', 'cancel'), bench, car, {
    ...(run !== undefined && { run }),
  } satisfies Schema['CancelPractice']);

/** guess says how far a run will go that the bench is armed for. */
export const guess = (bench: string, run: string, car: number | undefined, metres: number): Draft =>
  draft('guess', at('benches', bench, 'practice', 'guess'), bench, car, {
    distance_m: metres,
    run,
  } satisfies Schema['GuessRun']);

/** notMine says that another car made a run. */
export const notMine = (bench: string, run: string, car: number): Draft =>
  draft('move', at('practice', 'runs', run, 'car'), bench, car, { car_number: car } satisfies Schema['CarByNumber']);

/**
 * changeCar notes what a car is made of from now on; by when it was noted, runs that the bench makes while this phone
 * is cut off are of the right build.
 */
export function changeCar(bench: string, car: number, setup: Schema['CarSetup'], refit: boolean): Draft {
  const noted = serverClock.instant();
  return draft('setup', at('practice', 'cars', car, 'setups'), bench, car, {
    setup,
    ...(refit && { refit }),
    ...(noted !== undefined && { noted }),
  } satisfies Schema['ChangeCar']);
}

/** same says whether two orders say the same thing, whenever it was noted. */
export const same = (a: { path: string; body: string }, b: { path: string; body: string }): boolean =>
  a.path === b.path && timeless(a.body) === timeless(b.body);

const timeless = (body: string) => JSON.stringify({ ...(JSON.parse(body || '{}') as object), noted: undefined });
