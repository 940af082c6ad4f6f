import { expect, test, type Locator, type Page } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await hall.planMeet('spring', ['b1', 'b2'], 2, 2);
  const lanes = await hall.call('spring', 'junior-1.1.1');
  for (const bench of ['b1', 'b2']) await hall.ready('spring', 'junior-1.1.1', bench, lanes[bench]!.racer.start_number);
  await hall.start('spring', 'junior-1.1.1');
  for (const bench of ['b1', 'b2']) await new CounterBox(hall, bench, 'spring').run(lanes[bench]!.armed!, 2);
});
test.afterAll(() => hall.close());

const at = (path: string) => hall.address + path;
const look = (page: Page) =>
  page.evaluate(() => [
    document.documentElement.dataset['look'],
    getComputedStyle(document.documentElement).colorScheme,
    document.querySelector('meta[name="color-scheme"]')?.getAttribute('content'),
  ]);
const ink = ['ink', 'dark', 'dark'];
const paper = ['paper', 'light', 'light'];

test('the look is the system’s until somebody chooses, and then it is kept, on all faces', async ({ page }) => {
  await page.emulateMedia({ colorScheme: 'dark' });
  await page.goto(at('/m/spring'));
  await expect(page.getByRole('button', { name: 'Light look' })).toBeVisible();
  expect(await look(page)).toEqual(ink);
  await page.emulateMedia({ colorScheme: 'light' });
  await expect.poll(() => look(page)).toEqual(paper);

  await page.goto(at('/m/spring/standings/junior?lang=en'));
  await page.getByRole('button', { name: 'Dark look' }).click();
  expect(await look(page)).toEqual(ink);
  expect(new URL(page.url()).search).toBe('?lang=en'); // what else the address says stays
  await page.reload();
  await expect(page.getByRole('button', { name: 'Light look' })).toBeVisible();
  expect(await look(page)).toEqual(ink);
  await clean(page);

  await page.goto((await hall.signIn()).replace('/desk#', '/desk/m/spring#'));
  await page.getByRole('button', { name: 'Light look' }).click();
  expect(await look(page)).toEqual(paper);
  await page.goto(at('/bench/b1'));
  await page.getByRole('button', { name: 'Dark look' }).click();
  expect(await look(page)).toEqual(ink);
  await clean(page);
  await page.goto(at('/m/spring?look=paper')); // what the address says goes before
  await expect(page.getByRole('button', { name: 'Dark look' })).toBeVisible();
  expect(await look(page)).toEqual(paper);
});

test('links of public pages are large enough for a thumb, and names are underlined', async ({ page }) => {
  for (const path of ['/m/spring', '/m/spring/standings/junior', '/m/spring/bracket/junior']) {
    await page.goto(at(path));
    await expect(page.getByRole('navigation', { name: 'Pages of this race day' })).toBeVisible();
    const small = await page
      .locator('nav a, nav button, .above a, th a')
      .evaluateAll((all) =>
        all
          .map((one) => [one.textContent?.trim(), one.getBoundingClientRect().height] as const)
          .filter(([, height]) => height > 0 && height < 44),
      );
    expect(small, path).toEqual([]);
  }
  await page.goto(at('/m/spring/standings/junior'));
  const name = page.getByRole('rowheader').getByText('Puffin');
  expect(await name.evaluate((one) => getComputedStyle(one).textDecorationLine)).toBe('underline');
});

/** broken are the words of a text that do not stand on one line. */
const broken = (of: Locator) =>
  of.evaluate((one) => {
    const text = one.firstChild!;
    return [...text.textContent!.matchAll(/\S+/g)]
      .filter(({ index, 0: word }) => {
        const range = document.createRange();
        range.setStart(text, index);
        range.setEnd(text, index + word.length);
        return new Set([...range.getClientRects()].map((box) => Math.round(box.top))).size > 1;
      })
      .map(([word]) => word);
  });

test('a name that is called stays whole beside the pack that it takes', async ({ page }) => {
  await page.routeWebSocket(/\/live/, () => {});
  // The server's own heat, as if it were called and its packs dealt by lot.
  await page.route('**/api/v1/meets/spring/board', async (route) => {
    const answer = await route.fetch();
    const board = await answer.json();
    const lanes = board.posted[0].lanes.map((lane: object) => ({ ...lane, state: 'called', pack: 'C1' }));
    await route.fulfill({ response: answer, json: { ...board, called: [{ ...board.posted[0], lanes }] } });
  });
  await page.goto(at('/m/spring'));
  const called = page.getByRole('region', { name: 'Come to your bench' });
  await expect(called.getByText('take battery pack C1')).toHaveCount(2);
  for (const name of ['Lantern', 'Puffin']) expect(await broken(called.getByText(name, { exact: true }))).toEqual([]);
});

test('a page that has heard nothing of the standings does not say that there are none', async ({ page }) => {
  await page.routeWebSocket(/\/live/, () => {}); // it opens, and nothing comes
  await page.goto(at('/m/spring'));
  await expect(page.getByRole('region', { name: 'Newest results' })).toContainText('1st');
  const standings = page.getByRole('region', { name: 'Standings' });
  await expect(standings).toContainText('Waiting for the server');
  await expect(standings).not.toContainText('No standings yet');
});

test('with text of twice the size no word of a title falls apart', async ({ page }) => {
  await page.goto(at('/m/spring'));
  const title = page.getByRole('heading', { level: 1 });
  await expect(title).toHaveText('Harbour Hall spring meet');
  await page.addStyleTag({ content: 'html { font-size: 200% !important }' });
  expect(await broken(title)).toEqual([]);
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
});

test('standings and draw are printed by a key, on A4 and on Letter', async ({ page }) => {
  await page.addInitScript(() =>
    Object.assign(window, { print: () => void document.body.setAttribute('data-printed', '') }),
  );
  for (const path of ['/m/spring/standings/junior', '/m/spring/bracket/junior']) {
    await page.goto(at(path));
    await page.getByRole('button', { name: 'Print', exact: true }).click();
    await expect(page.locator('body')).toHaveAttribute('data-printed');
    for (const format of ['A4', 'Letter']) {
      const pdf = await page.pdf({ format, preferCSSPageSize: false });
      expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length, `${path} ${format}`).toBe(1);
    }
  }
});
