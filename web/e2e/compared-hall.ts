import { CounterBox, type Hall } from './bench-hall';

/** What each bench reads over the truth. */
export const factors: Record<string, number> = { b1: 1, b2: 0.999, b3: 1.025, b4: 1 };
const plain = 5600;

/** noise is a little different for every run, and the same every time. */
const noise = (n: number) => 1 + 0.0012 * Math.sin(7.1 * n + 1);

/** planCompared plans a meet on four benches with this policy, and marks cars 91 and 92 as reference cars. */
export async function planCompared(
  hall: Hall,
  meet: string,
  policy: 'report' | 'correct' | 'take-out',
  raceS = 4,
): Promise<void> {
  await hall.addBenches(1, 2, 3, 4);
  await hall.planMeet(meet, ['b1', 'b2', 'b3', 'b4'], 4, raceS);
  const { rules } = await hall.ask<{ rules: object }>('GET', `/meets/${meet}`);
  await hall.ask('PUT', `/meets/${meet}/rules`, { ...rules, benches: policy });
  for (const number of [91, 92]) await hall.ask('PUT', `/cars/ref-${number}`, { number, reference: true });
}

interface Slot {
  slot: number;
  bench: string;
  car_number: number;
  run?: string;
}

/** slots are those of the newest check that are not done. */
export async function slots(hall: Hall, meet: string): Promise<Slot[]> {
  const { checks } = await hall.ask<{ checks: { slots: Slot[] }[] }>('GET', `/meets/${meet}/bench-comparison`);
  return (checks.at(-1)?.slots ?? []).filter((slot) => slot.run === undefined);
}

/** makeRun makes the run that a bench is armed with. */
export async function makeRun(hall: Hall, bench: string, n: number, of = factors): Promise<void> {
  const order = await hall.ask<{ run: string; race_s: number }>('GET', `/benches/${bench}/order`);
  await new CounterBox(hall, bench).run(order.run, order.race_s, plain * of[bench]! * noise(n));
}

/** makeCheck begins a reference check and makes its runs, or just so many of them. */
export async function makeCheck(hall: Hall, meet: string, of = factors, most = Infinity): Promise<void> {
  await hall.ask('POST', `/meets/${meet}/reference-checks`, { cars: ['ref-91', 'ref-92'], race_s: 5 });
  for (const [n, slot] of (await slots(hall, meet)).slice(0, most).entries()) {
    await hall.ask('POST', `/benches/${slot.bench}/practice`, {
      car_number: slot.car_number,
      race_s: 5,
      reference_meet: meet,
    });
    await makeRun(hall, slot.bench, n + slot.car_number, of);
  }
}

/** raceRound races every drawn heat of a meet, each car with a speed of its own. */
export async function raceRound(hall: Hall, meet: string, raceS = 4, of = factors): Promise<void> {
  const { heats } = await hall.ask<{ heats: { id: string; phase: string }[] }>('GET', `/meets/${meet}/heats`);
  for (const { id } of heats.filter((h) => h.phase === 'drawn')) {
    const lanes = await hall.call(meet, id);
    for (const [bench, lane] of Object.entries(lanes)) await hall.ready(meet, id, bench, lane.racer.start_number);
    await hall.start(meet, id);
    for (const [bench, lane] of Object.entries(lanes)) {
      await new CounterBox(hall, bench, meet).run(
        lane.armed!,
        raceS,
        (plain + 100 * lane.racer.start_number) * of[bench]! * noise(lane.racer.start_number),
      );
    }
  }
}
