import type { Hall } from './bench-hall';
import { usualRules } from './usual-rules';

const names = ['Lantern', 'Puffin', 'Turbot', 'Nutmeg', 'Zigzag', 'Otter', 'Kettle', 'Walnut'];

/** planSeeds plans a knockout of eight whose entries are open, with seeding by hand. */
export async function planSeeds(hall: Hall, meet: string): Promise<void> {
  await hall.addBenches(1, 2);
  const rules = { ...usualRules, protest_s: 0 };
  await hall.ask('POST', '/meets', { id: meet, plan: { name: 'Harbour Hall autumn meet', date: '2027-10-02' }, rules });
  for (const bench of ['b1', 'b2']) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  await hall.ask('PUT', `/meets/${meet}/divisions/seniors`, {
    name: 'Seniors',
    age_from: 11,
    age_to: 15,
    class: { name: 'Open', lap_m: 3 },
    stages: [{ kind: 'knockout', race_s: 2, lanes: 2, seeding: 'hand', separate_clubs: true }],
  });
  for (const [i, name] of names.entries()) {
    const person = {
      name: `Kit ${name}`,
      display_name: name,
      birth_date: '2015-05-02',
      on_screen: true,
      in_results: true,
      photo: false,
    };
    await hall.ask('POST', `/meets/${meet}/entries`, {
      id: `e${i + 1}`,
      division: 'seniors',
      start_number: i + 1,
      person,
      club: i < 3 ? 'Quayside' : i < 5 ? 'Northmoor' : '',
    });
    if (i < 7) await hall.ask('POST', `/meets/${meet}/entries/e${i + 1}/check-in`, { there: true });
  }
  await hall.ask('POST', `/meets/${meet}/divisions/seniors/entries-closed`, { closed: true });
}

/** planTogether plans a meet of two small divisions of one class; two races are promised. */
export async function planTogether(hall: Hall, meet: string): Promise<void> {
  await hall.addBenches(1, 2);
  const rules = { ...usualRules, protest_s: 0, call_s: 0, runs_at_least: 2 };
  await hall.ask('POST', '/meets', { id: meet, plan: { name: 'Harbour Hall winter meet', date: '2027-12-04' }, rules });
  for (const bench of ['b1', 'b2']) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  const stages = [{ kind: 'swiss', race_s: 2, rounds: 1, lanes: 2 }];
  for (const [id, name, age] of [
    ['juniors', 'Juniors', 8],
    ['minis', 'Minis', 5],
  ] as const) {
    await hall.ask('PUT', `/meets/${meet}/divisions/${id}`, {
      name,
      age_from: age,
      age_to: age + 3,
      class: { name: 'Open', lap_m: 3 },
      stages,
    });
  }
  for (const [i, name] of names.slice(0, 5).entries()) {
    const person = {
      name: `Kit ${name}`,
      display_name: name,
      birth_date: '2022-05-02',
      on_screen: true,
      in_results: true,
      photo: false,
    };
    await hall.ask('POST', `/meets/${meet}/entries`, {
      id: `w${i + 1}`,
      division: i < 3 ? 'juniors' : 'minis',
      start_number: i + 1,
      person,
    });
    await hall.ask('POST', `/meets/${meet}/entries/w${i + 1}/check-in`, { there: true });
  }
}

/**
 * countAll calls every heat of a meet, counts its cars by hand, the higher number the further, and closes the round.
 */
export async function countAll(hall: Hall, meet: string, division: string): Promise<void> {
  const { heats } = await hall.ask<{ heats: { id: string; phase: string }[] }>('GET', `/meets/${meet}/heats`);
  for (const { id } of heats.filter((h) => h.phase === 'drawn')) {
    const lanes = await hall.call(meet, id);
    for (const [bench, lane] of Object.entries(lanes)) await hall.ready(meet, id, bench, lane.racer.start_number);
    await hall.start(meet, id);
    for (const { racer } of Object.values(lanes)) {
      await hall.ask('POST', `/meets/${meet}/heats/${id}/hand-count`, {
        entry: racer.entry,
        distance_m: 100 + racer.start_number,
        u_distance_m: 0.5,
      });
    }
  }
  await hall.ask('POST', `/meets/${meet}/divisions/${division}/close`, {});
}
