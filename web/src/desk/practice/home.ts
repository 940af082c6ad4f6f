import type { Schema } from '$lib/api';

/** Came is what one change of a car came to. */
export interface Came {
  answer: Schema['SessionAnswer'];
  /** What the car was made of before and after. */
  before: Schema['CarSetup'];
  after: Schema['CarSetup'];
  parts: Schema['CarPart'][];
}

/** Home is what a family takes home of one car: its number, and no name. */
export interface Home {
  car: number;
  runs: number;
  /** The shortest and the farthest run of the afternoon over its usual length, in m. */
  leastM: number | undefined;
  mostM: number | undefined;
  raceS: number | undefined;
  came: Came[];
  guesses: number;
  /** By how much the guesses were off on the whole, in m. */
  offM: number | undefined;
}

/** homeOf puts the lives of cars and the figures of a session together, a car each. */
export function homeOf(
  session: Schema['PracticeSession'],
  figures: Schema['SessionFigures'],
  lives: readonly Schema['CarLife'][],
): Home[] {
  return figures.cars
    .filter((one) => one.runs > 0)
    .map((one) => {
      const life = lives.find((each) => each.car_number === one.car_number);
      const made = (life?.runs ?? []).filter(
        (run) => run.counts && run.session === session.id && run.race_s === session.race_s,
      );
      const metres = made.map((run) => run.distance_m);
      const off = one.guesses.map((guess) => Math.abs(guess.guess_m - guess.distance_m));
      const setup = (state: number) => life?.states.find((each) => each.state === state)?.setup ?? {};
      return {
        car: one.car_number,
        runs: one.runs,
        leastM: metres.length > 0 ? Math.min(...metres) : undefined,
        mostM: metres.length > 0 ? Math.max(...metres) : undefined,
        raceS: metres.length > 0 ? session.race_s : undefined,
        came: one.answers
          .filter((answer) => answer.from > 0)
          .map((answer) => ({
            answer,
            before: setup(answer.from),
            after: setup(answer.to),
            parts: partsApart(setup(answer.from), setup(answer.to)),
          })),
        guesses: off.length,
        offM: off.length > 0 ? off.reduce((sum, m) => sum + m, 0) / off.length : undefined,
      };
    });
}

const parts: [Schema['CarPart'], (keyof Schema['CarSetup'])[]][] = [
  ['wheel', ['wheel_mm']],
  ['gear', ['driving_teeth', 'driven_teeth']],
  ['motor', ['motor']],
  ['cells', ['cells', 'chemistry']],
  ['pack', ['pack']],
  ['mass', ['mass_g']],
  ['tyres', ['tyres']],
  ['grease', ['grease']],
];

/** partsApart are the parts in which two builds differ. */
export const partsApart = (a: Schema['CarSetup'], b: Schema['CarSetup']): Schema['CarPart'][] =>
  parts.filter(([, fields]) => fields.some((field) => a[field] !== b[field])).map(([part]) => part);

/** partAlone is a build with one part of it and nothing else. */
export const partAlone = (part: Schema['CarPart'], setup: Schema['CarSetup']): Schema['CarSetup'] =>
  Object.fromEntries(
    (parts.find(([of]) => of === part)?.[1] ?? [])
      .filter((field) => setup[field] !== undefined)
      .map((field) => [field, setup[field]]),
  );
