import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { raceHeat } from './forms-hall';
import { planPaper, type PaperEntry } from './paper-hall';
import { letters, printed, type PrintedPage } from './pdf';

test.describe.configure({ mode: 'serial' });

let hall: Hall;
let forty: PaperEntry[];
let many: PaperEntry[];
test.beforeAll(async () => {
  test.setTimeout(240_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3, 4, 5, 6);
  forty = await planPaper(hall, 'forty', 40);
  many = await planPaper(hall, 'many', 200);
});
test.afterAll(() => hall.close());

test.use({ viewport: { width: 1440, height: 900 } });

const formats = ['A4', 'Letter'] as const;
const sizes = { A4: [595, 842], Letter: [612, 792] } as const;

/** look opens a sheet of a meet at the desk. */
async function look(page: Page, meet: string, sheet: string) {
  if (page.url() === 'about:blank') {
    await page.goto(await hall.signIn());
    await expect(page.getByText('Signed in as organiser')).toBeVisible();
  }
  await page.goto(`${hall.address}/desk/m/${meet}/paper/${sheet}`);
  await expect(page.locator('.printed').first()).toBeVisible({ timeout: 30_000 });
  await page.evaluate(() => document.fonts.ready);
}

/** right holds a print to what any printer can do: its size, a rim, letters of 9 pt at least, no colour. */
async function right(page: Page, pages: PrintedPage[], format: 'A4' | 'Letter') {
  const given = await letters(page);
  expect(given.smallest).toBeGreaterThanOrEqual(8.99);
  // Nothing was shrunk to fit: titles have the size that they were given.
  for (const size of pages.flatMap((one) => one.sizes))
    expect(Math.min(...given.titles.map((title) => Math.abs(title - size))), `a title of ${size} pt`).toBeLessThan(
      0.35,
    );
  expect(await clipped(page)).toEqual([]);
  expect(pages.length).toBeGreaterThan(0);
  for (const [i, one] of pages.entries()) {
    expect(Math.abs(one.width - sizes[format][0]), `page ${i + 1}`).toBeLessThan(1.5);
    expect(Math.abs(one.height - sizes[format][1]), `page ${i + 1}`).toBeLessThan(1.5);
    if (one.text.trim() === '') throw new Error(`page ${i + 1} of ${pages.length} is empty`);
    const rim = 14; // 5 mm
    expect(
      Math.min(one.left, one.top, one.width - one.right, one.height - one.bottom),
      `page ${i + 1}`,
    ).toBeGreaterThan(rim);
    expect(one.colour, `page ${i + 1}`).toBeLessThanOrEqual(3);
    // The line of the number on a plate is higher than the number itself.
    const over = one.over.filter((pair) => !/^Bench \/ \d+$/.test(pair));
    expect(over, `page ${i + 1}`).toEqual([]);
  }
}

/** clipped is the text of what has less room on paper than it needs, and hides the rest. */
async function clipped(page: Page): Promise<string[]> {
  await page.emulateMedia({ media: 'print' });
  const found = await page.locator('.printed').evaluateAll((sheets) =>
    sheets
      .flatMap((sheet) => [sheet, ...sheet.querySelectorAll('*')])
      .filter((each) => {
        const hides = getComputedStyle(each).overflow !== 'visible' && !each.closest('svg, .spoken, .screen-only');
        return hides && (each.scrollHeight > each.clientHeight + 1 || each.scrollWidth > each.clientWidth + 1);
      })
      .map((each) => each.textContent),
  );
  await page.emulateMedia({ media: null });
  return found;
}

const flat = (text: string) => text.replace(/\s+/g, ' ');

/** footed holds every page to its foot: sheet, meet, day, place, check code, and its number of all. */
async function footed(pages: PrintedPage[], sheet: string | ((page: number) => string), meet: string) {
  const { head } = await hall.ask<{ head: string }>('GET', `/meets/${meet}`);
  const code = head.slice(0, 12).match(/.{4}/g)!.join(' ');
  for (const [i, one] of pages.entries()) {
    const foot = flat(one.text.trimEnd().split('\n').slice(-4).join(' '));
    expect(foot).toContain(`${typeof sheet === 'string' ? sheet : sheet(i)} · Harbour Hall spring meet · Saturday`);
    expect(foot).toContain('17 April 2027'.split(' ')[2]!);
    expect(foot).toContain(`check code ${code}`);
    expect(foot).toContain(`page ${i + 1} of ${pages.length}`);
  }
}

/** headed holds the first page to what its check code is. */
const headed = (pages: PrintedPage[]) =>
  expect(flat(pages[0]!.text)).toMatch(
    /Check code [\da-f]{4} [\da-f]{4} [\da-f]{4}: the first signs of the log’s fingerprint/,
  );

/** words of a print that stand alone, such as start numbers. */
const has = (text: string, word: string | number) => new RegExp(`(^|\\s)${word}(\\s|$)`, 'm').test(text);

for (const [meet, entries] of [
  ['forty', () => forty],
  ['many', () => many],
] as const) {
  test(`the start list and the roll-call of ${meet} print whole, their heads on every page`, async ({ page }) => {
    test.setTimeout(120_000);
    for (const [sheet, name] of [
      ['start-list', 'Start list'],
      ['roll-call', 'Roll-call'],
    ] as const) {
      await look(page, meet, sheet);
      for (const format of formats) {
        const pages = await printed(page, format);
        await right(page, pages, format);
        await footed(pages, name, meet);
        headed(pages);
        expect(pages.length).toBeLessThanOrEqual(entries().length === 40 ? 3 : 10);
        const all = flat(pages.map((one) => one.text).join(' '));
        for (const one of entries()) {
          const [officials, shown] = [sheet === 'roll-call', one.agreed];
          expect(
            pages.some((p) => has(p.text, one.number)),
            `${one.number}`,
          ).toBe(true);
          expect(all.includes(one.name), one.name).toBe(officials);
          if (!officials) expect(has(all, one.nickname), one.nickname).toBe(shown);
          expect(all).not.toContain(one.born);
        }
        for (const one of pages) expect(one.text).toMatch(/Number\s+Name\s+(Club|Division)/);
      }
    }
  });

  test(`the paper kit of ${meet} tears no heat`, async ({ page }) => {
    test.setTimeout(120_000);
    await look(page, meet, 'kit');
    const { heats } = await hall.ask<{ heats: { lanes: { racer: { start_number: number } }[] }[] }>(
      'GET',
      `/meets/${meet}/heats`,
    );
    for (const format of formats) {
      const pages = await printed(page, format);
      await right(page, pages, format);
      const begin = pages.findIndex((one) => one.text.includes('Signature of the official'));
      await footed(pages, (i) => (i < begin ? 'Call list' : 'Heat sheets'), meet);
      const calls = pages.slice(0, begin);
      const sheets = pages.slice(begin);
      expect(calls.length).toBeGreaterThan(0);
      // Each block of a page is a heat that is there as a whole: title, all its cars, the line of the signature.
      const numbers: string[] = [];
      for (const one of sheets) {
        const blocks = `\n${one.text}`.split(/^\s*(?=(?:Juniors|Seniors)[^\n]*: )/m).slice(1);
        expect(blocks.length).toBeGreaterThan(0);
        for (const block of blocks) {
          expect(block).toContain('Signature of the official');
          expect(block).toContain('Started at');
          expect(block).toContain('The race lasts 1 minute. A lap is 3 m.');
          const rows = block.split('Laps')[1]!.split('The race lasts')[0]!;
          numbers.push([...rows.matchAll(/^\s*(\d+)(?=\s|$)/gm)].map((m) => m[1]).join(' '));
        }
      }
      const drawn = heats.map((h) => h.lanes.map((l) => l.racer.start_number).join(' '));
      expect(numbers.toSorted()).toEqual(drawn.toSorted());
      // The caller reads how to say it, and who gets ready.
      const read = flat(calls.map((one) => one.text).join(' '));
      for (const one of heats.flatMap((h) => h.lanes)) expect(read).toContain(`say-${one.racer.start_number}-so`);
      expect(read.match(/Get ready: /g)!.length).toBe(heats.length - 2);
    }
  });
}

test('what is hung up, cut out or given away has its foot, and children read it in large letters', async ({ page }) => {
  test.setTimeout(240_000);
  for (const [sheet, name] of [
    ['cards', 'Pocket cards'],
    ['plates', 'Bench plates'],
    ['pictures', 'At the bench'],
  ] as const) {
    await look(page, 'many', sheet);
    for (const format of formats) {
      const pages = await printed(page, format);
      await right(page, pages, format);
      await footed(pages, name, 'many');
      const all = flat(pages.map((one) => one.flow).join(' '));
      if (sheet === 'cards') {
        // Eight on a page.
        expect(pages).toHaveLength(25);
        for (const one of many) expect(has(all, one.number), `${one.number}`).toBe(true);
      }
    }
    if (sheet !== 'cards') continue;
    await page.emulateMedia({ media: 'print' });
    const sentence = page.getByText('nothing on a cord near rollers').first();
    const size = await sentence.evaluate((each) => parseFloat(getComputedStyle(each).fontSize) * 0.75);
    await page.emulateMedia({ media: null });
    expect(size).toBeGreaterThanOrEqual(10.99);
  }
});

test('a round is on the list of what is not on paper until it is printed here, and again when it is drawn again', async ({
  page,
}) => {
  await look(page, 'forty', 'start-list');
  await page.addInitScript(() => {
    // No printer here: the browser says the same when its print is over.
    window.print = () => {
      dispatchEvent(new Event('afterprint'));
      document.documentElement.dataset['sent'] = location.pathname;
    };
  });
  await page.goto(`${hall.address}/desk/m/forty`);
  const note = page.getByText('Drawn, and not printed from this desk:');
  await expect(note).toContainText('Juniors 6 to 10: Round 1 and Seniors 11 to 16: Last 16');
  await clean(page);
  await page.getByRole('link', { name: 'Paper', exact: true }).click();
  await expect(page.getByRole('heading', { name: 'Paper', exact: true })).toBeVisible();
  await clean(page);
  await page.getByRole('button', { name: 'Print: Call list' }).click();
  await expect(page.locator('html')).toHaveAttribute('data-sent', /call-list$/);
  await clean(page);
  await page.goto(`${hall.address}/desk/m/forty`);
  await expect(page.getByRole('heading', { name: 'Call board' })).toBeVisible();
  await expect(note).toHaveCount(0);
  await hall.ask('POST', '/meets/forty/divisions/senior/draw-again', { reason: { code: 'volunteer-error' } });
  await expect(note).toContainText('Seniors 11 to 16');
  await expect(note).not.toContainText('Juniors');
});

test('the results of a round say how they stand, and certificates have places only of official results', async ({
  page,
}) => {
  test.setTimeout(180_000);
  const heats = async () =>
    (
      await hall.ask<{ heats: { id: string; division: string; lanes: { racer: { entry: string } }[] }[] }>(
        'GET',
        '/meets/forty/heats',
      )
    ).heats.filter((h) => h.division === 'junior');
  const drawn = await heats();
  for (const heat of drawn) await raceHeat(hall, 'forty', heat.id);
  await hall.ask('POST', '/meets/forty/rulings', {
    kind: 'penalise',
    heat: drawn[0]!.id,
    entry: drawn[0]!.lanes[0]!.racer.entry,
    penalty_m: 12.5,
    reason: { code: 'false-start' },
  });
  await look(page, 'forty', 'results');
  await clean(page);
  for (const format of formats) {
    const pages = await printed(page, format);
    await right(page, pages, format);
    await footed(pages, 'Results', 'forty');
    headed(pages);
    const all = flat(pages.map((one) => one.text).join(' '));
    expect(all.match(/Provisional: can be protested until \d\d:\d\d\./g)).toHaveLength(drawn.length);
    expect(flat(pages[0]!.flow)).toContain('penalty of 12.5 m taken off');
    expect(all).toContain('counted by hand');
    for (const one of pages)
      for (const block of `\n${one.text}`.split(/^\s*(?=Juniors[^\n]*: Round \d+, heat)/m).slice(1))
        expect(block).toContain('can be protested until');
  }

  await look(page, 'forty', 'certificates');
  await expect(page.getByText('The results are not official yet')).toBeVisible();
  for (const format of formats) {
    const pages = await printed(page, format);
    await right(page, pages, format);
    expect(pages).toHaveLength(20);
    const all = flat(pages.map((one) => one.text).join(' '));
    expect(all.match(/Certificate/g)).toHaveLength(40);
    expect(all).not.toMatch(/\d(st|nd|rd|th) of/);
    for (const one of forty) {
      expect(all).toContain(`Car ${one.number} `);
      expect(has(all, one.nickname), one.nickname).toBe(one.agreed);
      expect(all).not.toContain(one.name);
    }
  }

  for (const division of ['close', 'draw'])
    await hall.ask(
      'POST',
      `/meets/forty/divisions/junior/${division}`,
      division === 'close' ? { early: { code: 'time' } } : undefined,
    );
  for (const heat of (await heats()).slice(drawn.length)) await raceHeat(hall, 'forty', heat.id);
  await hall.ask('POST', '/meets/forty/divisions/junior/close', { early: { code: 'time' } });
  await hall.ask('POST', '/meets/forty/divisions/junior/publish');
  await look(page, 'forty', 'certificates');
  await page.getByLabel('Division').selectOption('Juniors 6 to 10');
  await page.getByLabel('Size').selectOption('One a page');
  await clean(page);
  const juniors = forty.filter((one) => one.division === 'junior');
  for (const format of formats) {
    const pages = await printed(page, format);
    await right(page, pages, format);
    expect(pages).toHaveLength(juniors.length);
    expect(flat(pages[0]!.text)).toMatch(/1st of 30.*in Juniors 6 to 10/);
    // The lower the number the farther: car 1 lost 12.5 m in one of two runs, of which the best counts.
    expect(flat(pages[0]!.text)).toContain('Car 1 ');
    expect(flat(pages[0]!.text)).toContain('2 races, the longest 299.0 m');
    expect(flat(pages.at(-1)!.text)).toContain('30th of 30');
    // The frame fills the paper, also the longer one: the lowest line stands in its last fifth.
    expect(pages[0]!.bottom / pages[0]!.height).toBeGreaterThan(0.8);
  }
});

test('the results of a round of 150 cars tear no heat, and 200 certificates are two a page', async ({ page }) => {
  test.setTimeout(300_000);
  const { heats } = await hall.ask<{ heats: { id: string; division: string }[] }>('GET', '/meets/many/heats');
  const juniors = heats.filter((heat) => heat.division === 'junior');
  for (const heat of juniors) await raceHeat(hall, 'many', heat.id);
  await look(page, 'many', 'results');
  for (const format of formats) {
    const pages = await printed(page, format);
    await right(page, pages, format);
    await footed(pages, 'Results', 'many');
    const blocks = pages.flatMap((one) => `\n${one.text}`.split(/^\s*(?=Juniors[^\n]*: Round \d+, heat)/m).slice(1));
    expect(blocks).toHaveLength(juniors.length);
    // Each is there with its head, its cars and how it stands.
    const numbers = blocks.flatMap((block) => {
      expect(block).toMatch(/Place\s+Number\s+Name/);
      expect(block).toContain('can be protested until');
      return [...block.matchAll(/^\s*\d+(?:st|nd|rd|th)\s+(\d+)\s/gm)].map((m) => Number(m[1]));
    });
    expect(numbers.toSorted((a, b) => a - b)).toEqual(
      many.filter((one) => one.division === 'junior').map((one) => one.number),
    );
  }
  await look(page, 'many', 'certificates');
  const pages = await printed(page, 'Letter');
  await right(page, pages, 'Letter');
  expect(pages).toHaveLength(100);
  // Each says the day, the place and the check code itself: it is given away without the others.
  for (const one of pages) {
    const all = flat(one.flow);
    expect(all.match(/Harbour Hall, Saturday, 17 April 2027/g)).toHaveLength(2);
    expect(all.match(/check code [\da-f]{4} [\da-f]{4} [\da-f]{4}/gi)).toHaveLength(2);
  }
});
