import type { Hall } from './bench-hall';

const stages = [{ kind: 'timed-rounds', rounds: 1, race_s: 10, lanes: 2, rule: 'best' }];

/** planList plans a meet with Juniors of 6 to 10 and an open division, and nobody in them. */
export async function planList(hall: Hall, meet: string): Promise<void> {
  await hall.ask('POST', '/meets', {
    id: meet,
    plan: { name: 'Harbour Hall spring meet', place: 'Harbour Hall', date: '2027-04-17' },
  });
  const open = { name: 'Open class', lap_m: 3 };
  await hall.ask('PUT', `/meets/${meet}/divisions/junior`, {
    name: 'Juniors 6 to 10',
    age_from: 6,
    age_to: 10,
    class: open,
    stages,
  });
  await hall.ask('PUT', `/meets/${meet}/divisions/open`, { name: 'Open', age_from: 0, age_to: 0, class: open, stages });
}

/** enter takes an entry of somebody new. */
export const enter = (hall: Hall, meet: string, number: number, name: string, more: object = {}) =>
  hall.ask('POST', `/meets/${meet}/entries`, {
    id: `e${number}`,
    division: 'junior',
    start_number: number,
    person: { name, display_name: '', birth_date: '2018-05-02', on_screen: false, in_results: false, photo: false },
    ...more,
  });
