import type { Hall } from './bench-hall';
import { usualRules } from './usual-rules';

/** PaperEntry is an entry of planPaper with all that a print may or may not show of it. */
export interface PaperEntry {
  id: string;
  number: number;
  division: 'junior' | 'senior';
  name: string;
  nickname: string;
  sayAs: string;
  born: string;
  /** The guardian agrees to the nickname on screens, and in results. */
  agreed: boolean;
}

const first = ['Lantern', 'Puffin', 'Turbot', 'Nutmeg', 'Zigzag', 'Otter', 'Kettle', 'Walnut', 'Pebble', 'Comet'];
const last = ['Blue', 'Fern', 'Sky', 'Oak', 'Mist', 'Rust', 'Snow', 'Clay', 'Dune', 'Reed'];

/**
 * planPaper plans a meet of six benches with so many entries, three in four of them juniors in timed rounds of heats
 * of four, the others seniors in a knockout, and draws the first round of both. Of every seventh nothing may be shown.
 */
export async function planPaper(hall: Hall, meet: string, cars: number): Promise<PaperEntry[]> {
  await hall.ask('POST', '/meets', {
    id: meet,
    plan: { name: 'Harbour Hall spring meet', place: 'Harbour Hall', date: '2027-04-17' },
    rules: usualRules,
  });
  for (const bench of [1, 2, 3, 4, 5, 6]) await hall.ask('PUT', `/meets/${meet}/benches/b${bench}`);
  const cls = { name: 'Two-cell open class', lap_m: 3, release: 'Let go on the signal.' };
  await hall.ask('PUT', `/meets/${meet}/divisions/junior`, {
    name: 'Juniors 6 to 10',
    age_from: 6,
    age_to: 10,
    class: cls,
    stages: [{ kind: 'timed-rounds', rounds: 2, race_s: 60, lanes: 4, rule: 'best' }],
  });
  await hall.ask('PUT', `/meets/${meet}/divisions/senior`, {
    name: 'Seniors 11 to 16',
    age_from: 11,
    age_to: 16,
    class: cls,
    stages: [{ kind: 'knockout', race_s: 60, lanes: 2 }],
  });
  const entries: PaperEntry[] = [];
  for (let i = 0; i < cars; i++) {
    const nickname = `${i < 100 ? '' : 'Grand'}${first[i % 10]} ${last[Math.floor(i / 10) % 10]}`;
    const junior = i % 4 !== 3;
    const entry: PaperEntry = {
      id: `${meet}-e${i + 1}`,
      number: i + 1,
      division: junior ? 'junior' : 'senior',
      name: `Kit Child${i + 1} Quill`,
      nickname,
      sayAs: `say-${i + 1}-so`,
      born: junior ? '2019-05-02' : '2014-05-02',
      agreed: i % 7 !== 6,
    };
    await hall.ask('POST', `/meets/${meet}/entries`, {
      id: entry.id,
      division: entry.division,
      start_number: entry.number,
      club: 'Harbour Club',
      person: {
        name: entry.name,
        display_name: entry.nickname,
        say_as: entry.sayAs,
        birth_date: entry.born,
        on_screen: entry.agreed,
        in_results: entry.agreed,
        photo: false,
      },
    });
    await hall.ask('POST', `/meets/${meet}/entries/${entry.id}/check-in`, { there: true });
    entries.push(entry);
  }
  for (const division of ['junior', 'senior']) {
    await hall.ask('POST', `/meets/${meet}/divisions/${division}/entries-closed`, { closed: true });
    await hall.ask('POST', `/meets/${meet}/divisions/${division}/draw`);
  }
  return entries;
}
