import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { letters, printed, type PrintedPage } from './pdf';
import { planDraws, planMany, raceCounted } from './public-paper-hall';

test.describe.configure({ mode: 'serial' });
test.use({ viewport: { width: 1000, height: 900 } }); // no wall, so that the page of the rounds has its key to print

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(300_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3, 4, 5, 6);
  await raceCounted(hall, 'spring', 12);
  await planDraws(hall, 'autumn', {
    double: { name: 'Pairs twice', cars: 16, stage: { kind: 'double-elimination' } },
    groups: { name: 'Groups', cars: 13, stage: { kind: 'groups', groups: 3 } },
    knockout: { name: 'Knockout', cars: 13, stage: { kind: 'knockout', third_place: true } },
    robin: { name: 'All against all', cars: 6, stage: { kind: 'round-robin' } },
  });
  await planMany(hall, 'many');
});
test.afterAll(() => hall.close());

const formats = ['A4', 'Letter'] as const;
const flat = (text: string) => text.replace(/\s+/g, ' ');
const textOf = (pages: PrintedPage[]) => flat(pages.map((one) => one.flow).join(' '));
const has = (text: string, word: string | number) => new RegExp(`(^|\\s)${word}(\\s|$)`, 'm').test(text);

/**
 * prints prints a public page in both sizes, and holds each to what any printer can do and any reader needs: letters of
 * 9 pt or more, a rim, no colour, nothing over anything else, and at the foot of every page what it is, of which day
 * and place, the check code and its number of all.
 */
async function prints(page: Page, path: string, sheet: string, least = 9): Promise<PrintedPage[][]> {
  await page.goto(`${hall.address}/m/${path}`);
  await expect(page.getByText('Live', { exact: true })).toBeVisible();
  await expect(page.getByRole('button', { name: /^Print/ })).toBeVisible();
  await expect(page.getByText(/^(Asking|Waiting for) the server/)).toHaveCount(0);
  await page.evaluate(() => document.fonts.ready);
  expect((await letters(page)).smallest, path).toBeGreaterThanOrEqual(least - 0.01);
  const meet = path.split('/')[0]!;
  const { head, plan } = await hall.ask<{ head: string; plan: { name: string } }>('GET', `/meets/${meet}`);
  const code = head.slice(0, 12).match(/.{4}/g)!.join(' ');
  const day = meet === 'autumn' ? 'Saturday, 9 October 2027' : 'Saturday, 17 April 2027';
  const out: PrintedPage[][] = [];
  for (const format of formats) {
    const pages = await printed(page, format, path.replaceAll(/[/?=]/g, '-'));
    for (const [i, one] of pages.entries()) {
      const what = `${path} ${format} page ${i + 1} of ${pages.length}`;
      const foot = flat(one.text.trimEnd().split('\n').slice(-5).join(' '));
      // The halves of the foot have two lines each, so their words are mixed.
      for (const word of `${sheet} · ${plan.name} · ${day}, Harbour Hall check code ${code}`.split(' '))
        expect(foot, what).toContain(word);
      expect(foot, what).toContain(`page ${i + 1} of ${pages.length}`);
      expect(one.over, what).toEqual([]);
      expect(Math.min(one.left, one.top, one.width - one.right, one.height - one.bottom), what).toBeGreaterThan(14);
      expect(one.colour, what).toBeLessThanOrEqual(3);
      expect(one.dark, what).toBeLessThan(0.25);
    }
    out.push(pages);
  }
  return out;
}

/** How far down the page its text goes, without the foot, from 0 to 1. */
const full = (one: PrintedPage) => one.textBottom / one.height;

test('a child’s sheet: numbers, sums and a picture of roller and wheel on one page, the experiment on the next', async ({
  page,
}) => {
  for (const pages of await prints(page, 'spring/cars/e7?for=older', 'My numbers: 7 Lantern', 10)) {
    expect(pages).toHaveLength(2);
    const [sums, experiment] = pages.map((one) => flat(one.flow));
    // 94.25 mm around is 94.25 / pi = 30.0 mm across.
    for (const words of ['Roller: 30.0 mm across', 'once around: 94.25 mm', 'Wheel: how many mm across?'])
      expect(sums).toContain(words);
    const turns = /turns in 20 s: ([\d,.]+)/.exec(sums!)![1]!;
    expect(sums).toContain(`${turns} ÷ 20 × 60 =`);
    expect(sums).toContain('whole laps.');
    expect(experiment).toContain('Try it');
    expect(experiment).toContain('What a bench cannot show');
  }
  // The picture stands beside the sum that has its numbers, not above or below it.
  await page.emulateMedia({ media: 'print' });
  const [picture, sum] = [page.getByRole('figure').first(), page.getByText(/÷ 20 × 60 =/)];
  const [at, of] = [(await picture.boundingBox())!, (await sum.boundingBox())!];
  expect(at.x + at.width).toBeLessThanOrEqual(of.x);
  expect(of.y).toBeGreaterThan(at.y);
  expect(of.y + of.height).toBeLessThan(at.y + at.height);
  await page.emulateMedia({ media: null });
});

test('the sheet for 6 to 10: whole numbers in large print, and a sum that comes out', async ({ page }) => {
  const { runs } = await hall.ask<{
    runs: { racer?: { entry: string }; counts?: boolean; figures: { distance_m: number; time_s: number } }[];
  }>('GET', '/meets/spring/runs');
  const mine = runs.filter((run) => run.counts && run.racer?.entry === 'e7').map((run) => run.figures);
  expect(mine).toHaveLength(2);
  const best = Math.max(...mine.map((figures) => figures.distance_m));
  for (const pages of await prints(page, 'spring/cars/e7?for=young', 'My numbers: 7 Lantern', 11)) {
    expect(pages).toHaveLength(1);
    const text = textOf(pages);
    // No decimal anywhere above the foot.
    for (const one of pages) expect(one.text.split('\n').slice(0, -4).join(' ')).not.toMatch(/\d[.,]\d/);
    for (const { distance_m } of mine) expect(text).toContain(`${Math.round(distance_m)} m`);
    const [, metres, seconds, each, , left = '0'] = /(\d+) ÷ (\d+) = (\d+)( and (\d+) left over)?/.exec(text)!;
    expect([Number(metres), Number(seconds)]).toEqual([Math.round(best), 20]);
    expect(text).toContain(`my car went ${metres} m in ${seconds} seconds`);
    expect(Number(each) * Number(seconds) + Number(left)).toBe(Number(metres));
    expect(Number(left)).toBeLessThan(Number(seconds));
    const exact = Number(metres) / Number(seconds);
    const [, word, whole] = /That is (nearly|a little more than)? ?(\d+) m in each second/.exec(text)!;
    if (word === 'nearly') expect(Number(whole) - exact).toBeLessThan(0.5);
    else expect(exact - Number(whole)).toBeLessThan(0.5);
    expect(Math.abs(Number(whole) - exact)).toBeLessThan(0.5);
    for (const words of ['wheel', 'roller', 'One thing to try', 'First guess']) expect(text).toContain(words);
  }
  // Nor are the words in the picture and at the foot any smaller.
  await page.emulateMedia({ media: 'print' });
  const drawn = await page.getByRole('img', { name: /wheels on two rollers/ }).evaluate((svg: SVGSVGElement) => {
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    return [...svg.querySelectorAll('text')].map((text) => parseFloat(getComputedStyle(text).fontSize) * scale * 0.75);
  });
  expect(drawn).toHaveLength(3);
  expect(Math.min(...drawn)).toBeGreaterThanOrEqual(11);
  const foot = await page.evaluate(() =>
    document.adoptedStyleSheets
      .flatMap((sheet) => [...sheet.cssRules].map((rule) => rule.cssText))
      .filter((rule) => rule.startsWith('@page'))
      .join(' '),
  );
  expect([...foot.matchAll(/([\d.]+)pt/g)].map((m) => Number(m[1]))).toEqual([11, 11]);
  await page.emulateMedia({ media: null });
});

test('the class sheet and a run leave no page half empty before the last', async ({ page }) => {
  const { runs } = await hall.ask<{ runs: { id: string; counts?: boolean }[] }>('GET', '/meets/spring/runs');
  const [one, two] = runs.filter((run) => run.counts).map((run) => run.id);
  for (const pages of await prints(page, 'spring/class/junior', 'All cars of Juniors 6 to 10')) {
    expect(pages).toHaveLength(2);
    expect(full(pages[0]!)).toBeGreaterThan(0.8);
  }
  for (const pages of await prints(page, `spring/runs/${one}`, 'Run of')) {
    expect(pages).toHaveLength(2);
    expect(full(pages[0]!)).toBeGreaterThan(0.8);
    expect(textOf(pages)).not.toContain('Compare with another run');
  }
  for (const pages of await prints(page, `spring/runs/${one}?with=${two}`, 'Run of')) {
    expect(pages.length).toBeLessThanOrEqual(4);
    expect(textOf(pages)).toContain('Compare with another run');
  }
});

test('rules of one division and of four fit on one sheet', async ({ page }) => {
  for (const meet of ['spring', 'autumn'])
    for (const pages of await prints(page, `${meet}/rules`, 'Rules of the day')) expect(pages).toHaveLength(1);
  // In the dark look too paper stays white.
  for (const pages of await prints(page, 'spring/rules?look=ink', 'Rules of the day')) expect(pages).toHaveLength(1);
  await page.goto(`${hall.address}/m/spring/rules?look=paper`);
});

test('standings of 12 and of 150 cars repeat their heads and cut no row', async ({ page }) => {
  for (const pages of await prints(page, 'spring/standings/junior', 'Standings: Juniors 6 to 10'))
    expect(pages).toHaveLength(1);
  const { standings } = await hall.ask<{
    standings: { place: number; distance_m: number; racer: { start_number: number; display_name?: string } }[];
  }>('GET', '/meets/many/divisions/junior/standings');
  expect(standings).toHaveLength(150);
  for (const pages of await prints(page, 'many/standings/junior', 'Standings: Juniors 6 to 10')) {
    expect(pages.length).toBeLessThanOrEqual(7);
    for (const one of pages) expect(one.text).toMatch(/Place\s+Car\s+Result\s+Race 1/);
    const lines = pages.flatMap((one) => one.text.split('\n').map(flat));
    for (const { racer, distance_m } of standings) {
      const whole = `${racer.start_number} ${racer.display_name ? `${racer.display_name} ` : ''}${distance_m.toFixed(1)}`;
      expect(
        lines.filter((line) => line.includes(` ${whole}`)),
        whole,
      ).toHaveLength(1);
    }
  }
});

test('lists of heats tear none, a tree is large enough to read', async ({ page }) => {
  const { heats } = await hall.ask<{
    heats: { division: string; number: number; lanes: { racer: { start_number: number } }[] }[];
  }>('GET', '/meets/many/heats');
  const juniors = heats.filter((heat) => heat.division === 'junior');
  for (const pages of await prints(page, 'many/bracket/junior', 'Rounds: Juniors 6 to 10')) {
    expect(pages.length).toBeLessThanOrEqual(4);
    for (const { number, lanes } of juniors) {
      const on = pages.filter((one) => new RegExp(`Round 1, heat ${number}(?!\\d)`).test(one.text));
      expect(on, `heat ${number}`).toHaveLength(1);
      for (const { racer } of lanes) expect(has(on[0]!.text, racer.start_number), `${racer.start_number}`).toBe(true);
    }
  }
  const most = { 'many/bracket/senior': 3, 'autumn/bracket/double': 2, 'autumn/bracket/knockout': 1 };
  for (const [path, count] of Object.entries(most)) {
    const name = { senior: 'Seniors 11 to 16', double: 'Pairs twice', knockout: 'Knockout' }[path.split('/')[2]!]!;
    for (const pages of await prints(page, path, `Rounds: ${name}`)) expect(pages.length).toBeLessThanOrEqual(count);
    await page.emulateMedia({ media: 'print' });
    const small = await page.locator('.paper svg').evaluateAll((all) =>
      all.flatMap((svg) => {
        // as wide as A4 between its rims
        const scale = (186 * 96) / 25.4 / (svg as SVGSVGElement).viewBox.baseVal.width;
        return [...svg.querySelectorAll('text')].map((text) => parseFloat(getComputedStyle(text).fontSize) * scale);
      }),
    );
    await page.emulateMedia({ media: null });
    expect(small.length).toBeGreaterThan(10);
    expect(Math.min(...small)).toBeGreaterThanOrEqual(12); // 9 pt
  }
  // As lists, with a title and its heats on one page.
  for (const path of ['autumn/bracket/double?list', 'autumn/bracket/groups', 'autumn/bracket/robin'])
    for (const pages of await prints(page, path, 'Rounds:'))
      for (const one of pages) {
        const lines = one.text
          .trimEnd()
          .split('\n')
          .filter((line) => line.trim() !== '');
        const last = lines.slice(0, -2).at(-1)!.trim();
        expect(last, path).not.toMatch(/^((Winners’|Losers’) round \d|Round \d|Final|Second final)$/);
      }
});

test('axe finds nothing on them, in both looks, on a desk and on a phone', async ({ page }) => {
  test.setTimeout(240_000);
  const paths = [
    'spring/cars/e7?for=older',
    'spring/cars/e7?for=young',
    'spring/class/junior',
    'autumn/bracket/double',
    'autumn/bracket/double?list',
    'autumn/bracket/groups',
    'autumn/rules',
  ];
  for (const look of ['paper', 'ink'])
    for (const path of paths) {
      await page.goto(`${hall.address}/m/${path}${path.includes('?') ? '&' : '?'}look=${look}`);
      await expect(page.getByText('Live', { exact: true })).toBeVisible();
      await expect(page.getByText(/^(Asking|Waiting for) the server/)).toHaveCount(0);
      for (const [width, height] of [
        [1440, 900],
        [390, 844],
      ] as const) {
        await page.setViewportSize({ width, height });
        await clean(page);
        await expect
          .poll(() => page.evaluate(() => document.documentElement.scrollWidth), { message: path })
          .toBeLessThanOrEqual(width);
      }
    }
});
