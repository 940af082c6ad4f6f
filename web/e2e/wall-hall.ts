import { CounterBox, Hall, type Lane } from './bench-hall';

export const benches = Array.from({ length: 10 }, (_, i) => `b${i + 1}`);
export const heat = (n: number) => `junior-1.1.${n}`;
/** The start numbers of the forty cars. */
export const everyone = Array.from({ length: 40 }, (_, i) => i + 7);
const raceS = 600;

/** The nicknames of forty children: most are short, some have three words, one has all the letters that it may. */
const nicknames = everyone.map((_, i) =>
  i === 12 ? 'Thunderbolt the Unstoppable Otter of May' : i % 4 === 1 ? `The Unstoppable Otter ${i}` : `Puffin ${i}`,
);

/** fullHall opens a hall of ten benches and forty cars, with so many in a heat. */
export async function fullHall(lanes: number, seconds = raceS): Promise<Hall> {
  const hall = await Hall.open();
  await hall.addBenches(...benches.map((_, i) => i + 1));
  await hall.planMeet('spring', benches, everyone.length, seconds, 600, lanes, nicknames);
  return hall;
}

export const numbers = (lanes: Record<string, Lane>) => Object.values(lanes).map((lane) => lane.racer.start_number);

const phase = async (at: Hall, n: number) => {
  const { heats } = await at.ask<{ heats: { id: string; phase: string }[] }>('GET', '/meets/spring/heats');
  return heats.find((one) => one.id === heat(n))?.phase;
};

/** call calls heats that are not called yet, and gives the start numbers of all of them. */
export async function call(at: Hall, ...heats: number[]): Promise<number[]> {
  const called: number[] = [];
  for (const n of heats) {
    const drawn = (await phase(at, n)) === 'drawn';
    called.push(...numbers(drawn ? await at.call('spring', heat(n)) : await at.lanes('spring', heat(n))));
  }
  return called;
}

type Run = ReturnType<CounterBox['begin']>;
/** The runs of heats that race, by hall and heat. */
const under = new WeakMap<Hall, Map<number, Run[]>>();

/** start starts heats that do not race yet, and lets their counter boxes send the first seconds, or all. */
export async function start(at: Hall, heats: number[], seconds = 2): Promise<number[]> {
  const started = await call(at, ...heats);
  for (const n of heats) {
    if ((await phase(at, n)) !== 'called') continue;
    const lanes = Object.entries(await at.lanes('spring', heat(n)));
    for (const [bench, lane] of lanes) await at.ready('spring', heat(n), bench, lane.racer.start_number);
    await at.start('spring', heat(n));
    const runs = Object.entries(await at.lanes('spring', heat(n))).map(([bench, lane]) =>
      new CounterBox(at, bench, 'spring').begin(
        lane.armed!,
        raceS,
        (seconds < raceS ? 6000 : 300) + lane.racer.start_number,
      ),
    );
    for (const run of runs) await run.send(seconds);
    under.set(at, (under.get(at) ?? new Map<number, Run[]>()).set(n, runs));
  }
  return started;
}

/** drive has cars that race go on, so that a screen that has just been opened has their speed. */
export async function drive(at: Hall, heats: number[], seconds: number): Promise<void> {
  for (const n of heats) for (const run of under.get(at)?.get(n) ?? []) await run.send(seconds);
}

/** raceWhole has heats raced to their end. */
export const raceWhole = (at: Hall, heats: number[]) => start(at, heats, raceS);
