import { CounterBox, type Hall } from './bench-hall';
import { raceHeat } from './forms-hall';
import { planPaper } from './paper-hall';

/** raceS is long enough for distances that a child knows. */
const raceS = 20;

/** planMany is the day of 200 entries whose juniors have raced once, by hand counts. */
export async function planMany(hall: Hall, meet: string): Promise<void> {
  await planPaper(hall, meet, 200);
  const { heats } = await hall.ask<{ heats: { id: string; division: string }[] }>('GET', `/meets/${meet}/heats`);
  for (const heat of heats) if (heat.division === 'junior') await raceHeat(hall, meet, heat.id);
}

/** planDraws plans a meet with a division of each of these stages, and draws it. */
export async function planDraws(
  hall: Hall,
  meet: string,
  divisions: Record<string, { name: string; cars: number; stage: object }>,
): Promise<void> {
  const plan = { name: 'Harbour Hall autumn meet', place: 'Harbour Hall', date: '2027-10-09' };
  await hall.ask('POST', '/meets', { id: meet, plan });
  for (const bench of ['b1', 'b2', 'b3', 'b4']) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  let number = 1;
  for (const [id, { name, cars, stage }] of Object.entries(divisions)) {
    await hall.ask('PUT', `/meets/${meet}/divisions/${id}`, {
      name,
      age_from: 0,
      age_to: 0,
      class: { name: 'Two-cell open class', lap_m: 3 },
      stages: [{ race_s: raceS, lanes: 2, ...stage }],
    });
    for (let i = 1; i <= cars; i++, number++) {
      const person = { name: `Kit ${number}`, display_name: `Otter ${number}`, on_screen: true, in_results: true };
      const entry = { id: `e${number}`, division: id, start_number: number, person: { ...person, photo: false } };
      await hall.ask('POST', `/meets/${meet}/entries`, entry);
      await hall.ask('POST', `/meets/${meet}/entries/e${number}/check-in`, { there: true });
    }
    await hall.ask('POST', `/meets/${meet}/divisions/${id}/entries-closed`, { closed: true });
    await hall.ask('POST', `/meets/${meet}/divisions/${id}/draw`);
  }
}

/** raceCounted races a meet of so many cars, two rounds of heats of four, counted by boxes at the benches. */
export async function raceCounted(hall: Hall, meet: string, cars: number): Promise<void> {
  await hall.planMeet(meet, ['b1', 'b2', 'b3', 'b4'], cars, raceS);
  for (const round of [1, 2]) {
    if (round === 2) {
      await hall.ask('POST', `/meets/${meet}/divisions/junior/close`, { early: { code: 'time' } });
      await hall.ask('POST', `/meets/${meet}/divisions/junior/draw`);
    }
    const { heats } = await hall.ask<{ heats: { id: string; phase: string }[] }>('GET', `/meets/${meet}/heats`);
    for (const { id } of heats.filter((heat) => heat.phase === 'drawn')) {
      const lanes = await hall.call(meet, id);
      for (const [bench, lane] of Object.entries(lanes)) await hall.ready(meet, id, bench, lane.racer.start_number);
      await hall.start(meet, id);
      for (const [bench, lane] of Object.entries(lanes)) {
        const rpm = 7000 + 90 * lane.racer.start_number + 40 * round;
        await new CounterBox(hall, bench, meet).run(lane.armed!, raceS, rpm);
      }
    }
  }
}
