import type { Hall } from './bench-hall';
import { usualRules } from './usual-rules';

/** What the cars of planTable have to show. */
export const classTable = {
  battery: {
    aside_after: 3,
    windows: [
      { chemistry: 'alkaline', cells: 2, open_v: { min: 3, max: 3.3 }, load_v: { min: 2.7, max: 3.3 }, valid_s: 7200 },
      { chemistry: 'nickel-metal-hydride', cells: 2, open_v: { min: 2.5, max: 2.9 }, valid_s: 7200 },
    ],
  },
  checklist: [
    { id: 'mass', name: 'Weight with battery', unit: 'g', max: 180, instrument: 'scale' },
    { id: 'loose', name: 'Nothing is loose' },
  ],
};

/**
 * planTable plans a meet whose cars have to be checked: those that are not wait at the bench. Cars 7, 8, … are drawn
 * for a first round.
 */
export async function planTable(
  hall: Hall,
  meet: string,
  benches: string[],
  cars: number,
  gate: 'warn' | 'hold' = 'hold',
): Promise<void> {
  await hall.ask('POST', '/meets', {
    id: meet,
    plan: { name: 'Harbour Hall winter meet', place: 'Harbour Hall', date: '2027-12-04' },
    rules: {
      ...usualRules,
      protest_s: 0,
      call_s: 600,
      battery_gate: gate,
      inspection_gate: gate,
    },
  });
  for (const bench of benches) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  await hall.ask('PUT', `/meets/${meet}/divisions/junior`, {
    name: 'Juniors 6 to 10',
    age_from: 6,
    age_to: 10,
    class: { name: 'Two-cell open class', lap_m: 3, cells: 2, ...classTable },
    stages: [{ kind: 'timed-rounds', rounds: 1, race_s: 4, lanes: benches.length, rule: 'best' }],
  });
  const names = ['Lantern', 'Puffin', 'Turbot', 'Nutmeg', 'Zigzag', 'Otter'];
  for (let i = 0; i < cars; i++) {
    const person = {
      name: `Kit ${names[i]}`,
      display_name: names[i],
      birth_date: '2019-05-02',
      on_screen: true,
      in_results: true,
      photo: false,
    };
    await hall.ask('POST', `/meets/${meet}/entries`, {
      id: `e${i + 7}`,
      division: 'junior',
      start_number: i + 7,
      person,
    });
    await hall.ask('POST', `/meets/${meet}/entries/e${i + 7}/check-in`, { there: true });
  }
  await hall.ask('POST', `/meets/${meet}/divisions/junior/entries-closed`, { closed: true });
  await hall.ask('POST', `/meets/${meet}/divisions/junior/draw`);
}

/** measure writes down a battery check of two alkaline cells. */
export const measure = (
  hall: Hall,
  meet: string,
  pack: string,
  volts: number,
  of: { entry?: string; division?: string },
): Promise<unknown> =>
  hall.ask('POST', `/meets/${meet}/packs/${pack}/check`, {
    ...of,
    chemistry: 'alkaline',
    cells: 2,
    open_v: volts,
    load_v: Number((volts - 0.25).toFixed(3)),
    instrument: 'meter 1',
    loads: [
      { ma: 5, v: Number((volts - 0.01).toFixed(3)) },
      { ma: 505, v: Number((volts - 0.24).toFixed(3)) },
    ],
  });

/** inspect writes down that a car was found right, or too heavy. */
export const inspect = (hall: Hall, meet: string, entry: string, grams = 171.5): Promise<unknown> =>
  hall.ask('POST', `/meets/${meet}/entries/${entry}/inspection`, {
    values: [
      { item: 'mass', value: grams, instrument: 'scale' },
      { item: 'loose', yes: true },
    ],
    ...(grams > 180 ? { fix_s: 900 } : { mark: 'green dot' }),
  });
