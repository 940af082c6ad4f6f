import type { Hall } from './bench-hall';

const names = ['Lantern', 'Puffin', 'Turbot', 'Nutmeg', 'Zigzag', 'Otter', 'Kettle', 'Walnut'];

/** planSeeds plans a knockout of eight whose entries are open, with seeding by hand. */
export async function planSeeds(hall: Hall, meet: string): Promise<void> {
  await hall.addBenches(1, 2);
  const rules = { protest_s: 0, call_s: 120, reruns_per_entry: 2, tie: 'next-best', did_not_finish: 'keep-distance', benches: 'report', late: 'no', hand_counts: 'ranks' };
  await hall.ask('POST', '/meets', { id: meet, plan: { name: 'Harbour Hall autumn meet', date: '2027-10-02' }, rules });
  for (const bench of ['b1', 'b2']) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  await hall.ask('PUT', `/meets/${meet}/divisions/seniors`, {
    name: 'Seniors', age_from: 11, age_to: 15, class: { name: 'Open', lap_m: 3 },
    stages: [{ kind: 'knockout', race_s: 2, lanes: 2, seeding: 'hand', separate_clubs: true }],
  });
  for (const [i, name] of names.entries()) {
    const person = { name: `Kit ${name}`, display_name: name, birth_date: '2015-05-02', on_screen: true, in_results: true, photo: false };
    await hall.ask('POST', `/meets/${meet}/entries`, { id: `e${i + 1}`, division: 'seniors', start_number: i + 1, person, club: i < 3 ? 'Quayside' : i < 5 ? 'Northmoor' : '' });
    if (i < 7) await hall.ask('POST', `/meets/${meet}/entries/e${i + 1}/check-in`, { there: true });
  }
  await hall.ask('POST', `/meets/${meet}/divisions/seniors/entries-closed`, { closed: true });
}
