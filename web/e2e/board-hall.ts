import { Hall } from './bench-hall';
import { usualRules } from './usual-rules';

/** todayAtTen is a date and a time zone in which it is about ten in the morning at this moment. */
export function todayAtTen(now = new Date()): { date: string; time_zone: string } {
  const ahead = 10 - now.getUTCHours(); // -13 to 10 hours, which Etc zones have
  const there = new Date(now.getTime() + ahead * 3_600_000);
  // In these names the sign is turned round: Etc/GMT-2 is two hours ahead.
  return { date: there.toISOString().slice(0, 10), time_zone: `Etc/GMT${ahead > 0 ? '-' : '+'}${Math.abs(ahead)}` };
}

/** planBoard plans a day of divisions with so many cars each, timed rounds in heats of some lanes, and draws them. */
export async function planBoard(
  hall: Hall,
  meet: string,
  benches: number,
  divisions: string[],
  cars: number,
  { rounds = 3, lanes = 4, protest_s = 600, plan = {} } = {},
) {
  await hall.addBenches(...Array.from({ length: benches }, (_, n) => n + 1));
  await hall.ask('POST', '/meets', {
    id: meet,
    plan: {
      name: 'Harbour Hall spring meet',
      place: 'Harbour Hall',
      ...todayAtTen(),
      opens: '09:00',
      closes: '18:00',
      packing_min: 30,
      prizes_min: 20,
      ...plan,
    },
    rules: {
      ...usualRules,
      protest_s,
    },
  });
  for (let n = 1; n <= benches; n++) await hall.ask('PUT', `/meets/${meet}/benches/b${n}`);
  for (const [at, name] of divisions.entries()) {
    await hall.ask('PUT', `/meets/${meet}/divisions/d${at + 1}`, {
      name,
      age_from: 0,
      age_to: 0,
      class: { name: 'Open class', lap_m: 3 },
      stages: [{ kind: 'timed-rounds', rounds, race_s: 60, lanes, rule: 'best' }],
    });
    const numbers = Array.from({ length: cars }, (_, n) => at * cars + n + 1);
    const enter = async (n: number) => {
      const person = { name: `Kit ${n}`, display_name: `Otter ${n}`, on_screen: true, in_results: true, photo: false };
      await hall.ask('POST', `/meets/${meet}/entries`, {
        id: `e${n}`,
        division: `d${at + 1}`,
        start_number: n,
        person,
      });
      await hall.ask('POST', `/meets/${meet}/entries/e${n}/check-in`, { there: true });
    };
    for (let from = 0; from < numbers.length; from += 20) await Promise.all(numbers.slice(from, from + 20).map(enter));
    await hall.ask('POST', `/meets/${meet}/divisions/d${at + 1}/entries-closed`, { closed: true });
    await hall.ask('POST', `/meets/${meet}/divisions/d${at + 1}/draw`);
  }
}
