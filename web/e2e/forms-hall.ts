import type { Hall } from './bench-hall';
import { usualRules } from './usual-rules';

const names = ['Lantern', 'Puffin', 'Turbot', 'Nutmeg', 'Zigzag', 'Otter', 'Kettle', 'Walnut', 'Pebble'];
const raceS = 60;

/** The divisions of the meet of forms: how many cars each has, and its stage. */
const divisions = [
  {
    id: 'heats',
    name: 'Heats 6 to 8',
    from: 6,
    to: 8,
    cars: 9,
    stage: { kind: 'heats', race_s: raceS, lanes: 4, advance: 1, next_best: 1, b_final: true },
  },
  {
    id: 'design',
    name: 'Design 9 to 10',
    from: 9,
    to: 10,
    cars: 7,
    stage: { kind: 'points-rounds', race_s: raceS, lanes: 3, rounds: 3, lane_design: true },
  },
  {
    id: 'plate',
    name: 'Plate 11 to 12',
    from: 11,
    to: 12,
    cars: 6,
    stage: { kind: 'knockout', race_s: raceS, lanes: 2, plate: true },
  },
  {
    id: 'legs',
    name: 'Legs 13 to 14',
    from: 13,
    to: 14,
    cars: 4,
    stage: { kind: 'knockout', race_s: raceS, lanes: 2, legs: 2 },
  },
] as const;

/** planForms plans a meet with a division of each of the forms that need more than a pair or a list. */
export async function planForms(hall: Hall, meet: string): Promise<void> {
  await hall.addBenches(1, 2, 3, 4, 5, 6);
  const rules = {
    ...usualRules,
    protest_s: 0,
  };
  await hall.ask('POST', '/meets', { id: meet, plan: { name: 'Harbour Hall winter meet', date: '2027-12-04' }, rules });
  for (const n of [1, 2, 3, 4, 5, 6]) await hall.ask('PUT', `/meets/${meet}/benches/b${n}`);
  let number = 1;
  for (const d of divisions) {
    await hall.ask('PUT', `/meets/${meet}/divisions/${d.id}`, {
      name: d.name,
      age_from: d.from,
      age_to: d.to,
      class: { name: 'Open', lap_m: 3 },
      stages: [d.stage],
    });
    for (const name of names.slice(0, d.cars)) {
      const person = {
        name: `Kit ${name} ${d.id}`,
        display_name: name,
        birth_date: `${2027 - d.to}-05-02`,
        on_screen: true,
        in_results: true,
        photo: false,
      };
      await hall.ask('POST', `/meets/${meet}/entries`, {
        id: `e${number}`,
        division: d.id,
        start_number: number,
        person,
      });
      await hall.ask('POST', `/meets/${meet}/entries/e${number}/check-in`, { there: true });
      number++;
    }
  }
}

interface Round {
  drawn?: boolean;
  closed: boolean;
  heats: {
    id: string;
    heat?: { phase: string; lanes: { racer: { entry: string; start_number: number }; state: string }[] };
  }[];
}

export async function drawFirst(hall: Hall, meet: string, division: string): Promise<void> {
  await hall.ask('POST', `/meets/${meet}/divisions/${division}/entries-closed`, { closed: true });
  await hall.ask('POST', `/meets/${meet}/divisions/${division}/draw`);
}

const roundsOf = async (hall: Hall, meet: string, division: string) =>
  (await hall.ask<{ rounds: Round[] }>('GET', `/meets/${meet}/divisions/${division}/bracket`)).rounds;

/** raceHeat races a heat by hand counts, the lower number the farther. */
export async function raceHeat(hall: Hall, meet: string, heat: string, metres = (n: number) => 300 - n): Promise<void> {
  const lanes = await hall.call(meet, heat);
  for (const [bench, lane] of Object.entries(lanes)) await hall.ready(meet, heat, bench, lane.racer.start_number);
  await hall.start(meet, heat);
  for (const lane of Object.values(lanes)) {
    const counted = { entry: lane.racer.entry, distance_m: metres(lane.racer.start_number), u_distance_m: 0.9 };
    await hall.ask('POST', `/meets/${meet}/heats/${heat}/hand-count`, counted);
  }
}

/** raceRound races what is drawn of a division, deciders too, and closes the round. */
export async function raceRound(
  hall: Hall,
  meet: string,
  division: string,
  metres?: (n: number) => number,
): Promise<void> {
  for (;;) {
    const open = (await roundsOf(hall, meet, division))
      .flatMap((r) => (r.drawn ? r.heats : []))
      .find((h) => h.heat?.phase === 'drawn');
    if (!open) break;
    await raceHeat(hall, meet, open.id, metres);
  }
  await hall.ask('POST', `/meets/${meet}/divisions/${division}/close`, { early: { code: 'time' } });
}

export async function drawNext(hall: Hall, meet: string, division: string): Promise<void> {
  await hall.ask('POST', `/meets/${meet}/divisions/${division}/draw`);
}
