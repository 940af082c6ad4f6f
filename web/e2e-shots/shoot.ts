import { expect, type Page } from '@playwright/test';
import { fileURLToPath } from 'node:url';
import { CounterBox, type Hall } from '../e2e/bench-hall';
import { usualRules } from '../e2e/usual-rules';

const folder = fileURLToPath(new URL('../screenshots/', import.meta.url));
const sizes = {
  desktop: [1440, 900],
  phone: [390, 844],
  hall: [1920, 1080],
  projector: [1280, 720],
  upright: [1080, 1920],
} as const;
export type Size = keyof typeof sizes;

/**
 * camera takes pictures of a page as screenshots/FACE-NAME-SIZE.png. What scrolls is
 * taken whole, but for the hall's: nobody scrolls on a wall. A page that is wider
 * than its window fails.
 */
export const camera =
  (page: Page, face: string, usual: readonly Size[]) =>
  async (name: string, only = usual): Promise<void> => {
    for (const size of only) {
      const [width, height] = sizes[size];
      await page.setViewportSize({ width, height });
      await expect(page.getByText(/^(Asking|Waiting for) the server/)).toHaveCount(0);
      // A notice has its room a moment before its words, so that screen readers say them.
      await expect(page.locator('.notice .coming')).toHaveCount(0);
      await page.evaluate(() => document.fonts.ready);
      // Two frames: fitted lists have counted their lines by then.
      await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
      expect(
        await page.evaluate(() => document.documentElement.scrollWidth),
        `${name} ${size} is wider than its window`,
      ).toBeLessThanOrEqual(width);
      const open = (await page.getByRole('dialog').count()) > 0;
      await page.screenshot({
        path: `${folder}${face}-${name}-${size}.png`,
        fullPage: !['hall', 'projector', 'upright'].includes(size) && !open,
        animations: 'disabled',
      });
    }
  };

/** race confirms and starts a called heat and makes its runs, the higher number the faster. */
export async function race(hall: Hall, meet: string, heat: string, raceS: number): Promise<void> {
  const lanes = await hall.call(meet, heat);
  for (const [bench, lane] of Object.entries(lanes)) await hall.ready(meet, heat, bench, lane.racer.start_number);
  await hall.start(meet, heat);
  for (const [bench, lane] of Object.entries(lanes)) {
    await new CounterBox(hall, bench, meet).run(lane.armed!, raceS, 5000 + 150 * lane.racer.start_number);
  }
}

/** planKnockout plans a day of one timed round and a knockout of the best four. */
export async function planKnockout(hall: Hall, meet: string, benches: string[], raceS: number): Promise<void> {
  const rules = {
    ...usualRules,
    protest_s: 0,
  };
  await hall.ask('POST', '/meets', {
    id: meet,
    plan: { name: 'Harbour Hall autumn meet', place: 'Harbour Hall', date: '2027-10-09' },
    rules,
  });
  for (const bench of benches) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  await hall.ask('PUT', `/meets/${meet}/divisions/seniors`, {
    name: 'Seniors 11 to 16',
    age_from: 11,
    age_to: 16,
    class: { name: 'Two-cell open class', lap_m: 3 },
    stages: [
      { kind: 'timed-rounds', rounds: 1, race_s: raceS, lanes: 2, rule: 'best' },
      { kind: 'knockout', race_s: raceS, lanes: 2, entries: 4, third_place: true },
    ],
  });
  const names = ['Lantern', 'Puffin', 'Turbot', 'Nutmeg', 'Zigzag', 'The Unstoppable Otter'];
  for (const [i, name] of names.entries()) {
    const person = {
      name: `Kit ${name}`,
      display_name: name,
      birth_date: '2014-05-02',
      on_screen: i !== 2,
      in_results: true,
      photo: false,
    };
    await hall.ask('POST', `/meets/${meet}/entries`, {
      id: `k${i + 1}`,
      division: 'seniors',
      start_number: i + 21,
      person,
    });
    await hall.ask('POST', `/meets/${meet}/entries/k${i + 1}/check-in`, { there: true });
  }
  await hall.ask('POST', `/meets/${meet}/divisions/seniors/entries-closed`, { closed: true });
  await hall.ask('POST', `/meets/${meet}/divisions/seniors/draw`);
}

/** raceAll races every heat that is drawn and not raced yet. */
export async function raceAll(hall: Hall, meet: string, raceS: number): Promise<void> {
  const { heats } = await hall.ask<{ heats: { id: string; phase: string }[] }>('GET', `/meets/${meet}/heats`);
  for (const heat of heats) if (heat.phase === 'drawn') await race(hall, meet, heat.id, raceS);
}

export const closeRound = (hall: Hall, meet: string, division: string) =>
  hall.ask('POST', `/meets/${meet}/divisions/${division}/close`, {});
export const draw = (hall: Hall, meet: string, division: string) =>
  hall.ask('POST', `/meets/${meet}/divisions/${division}/draw`);
