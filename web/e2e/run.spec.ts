import { expect, test, type Page } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

let hall: Hall;
const runs: Record<string, string> = {};
test.beforeAll(async () => {
  test.setTimeout(180_000); // the binary may have to be built
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await hall.planMeet('spring', ['b1', 'b2'], 2, 20);
  const lanes = await hall.call('spring', 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(lanes))
    await hall.ready('spring', 'junior-1.1.1', bench, lane.racer.start_number);
  await hall.start('spring', 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(lanes)) {
    runs[bench] = lane.armed!;
    await new CounterBox(hall, bench, 'spring').run(lane.armed!, 20, bench === 'b1' ? 6000 : 6300);
  }
});
test.afterAll(() => hall.close());

async function sound(page: Page) {
  await clean(page);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth),
  ).toBeLessThanOrEqual(0);
}

test('a family reads a run off its curve, and lays another one over it', async ({ page }) => {
  test.slow(); // two scans of a long page
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(`${hall.address}/m/spring/standings/junior`);
  await page.setViewportSize({ width: 1280, height: 800 }); // on a phone the runs are left out
  await page
    .getByRole('link', { name: /^Curve of the run of/ })
    .first()
    .click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/^Run of \d+ \w+$/);
  await expect(page.getByText('Juniors 6 to 10: Round 1, heat 1')).toBeVisible();
  await page.setViewportSize({ width: 390, height: 844 });
  await sound(page);
  // The key to print belongs to the page, and is not glued to the first of its figures.
  const below = await page.getByRole('button', { name: 'Print' }).evaluate((key) => {
    const next = key.parentElement!.nextElementSibling!;
    return next.getBoundingClientRect().top - key.getBoundingClientRect().bottom;
  });
  expect(below).toBeGreaterThanOrEqual(24);

  const cursor = page.getByRole('slider', { name: /^Speed over time/ });
  await cursor.focus();
  await page.keyboard.press('End');
  await expect(cursor).toHaveAttribute('aria-valuetext', /^At (19|20)\.\d s: 3\d\.\d km\/h/);
  await page.getByRole('button', { name: 'Show as a table' }).click();
  await expect(page.getByRole('table', { name: 'Speed over time, as a table' }).getByRole('row').nth(3)).toBeVisible();

  const choice = page.getByRole('combobox', { name: 'Lay over it' });
  await choice.focus();
  await choice.selectOption({ index: 1 });
  await expect(page.getByText(/^\d+ \w+ went .* further\.$/)).toBeVisible();
  await expect(page).toHaveURL(/\?with=/);
  await expect(choice).toBeFocused(); // nothing jumped
  await expect(page.getByRole('figure')).toHaveCount(3);
  await sound(page);
});

test('the paper has lines, black on white, and the table', async ({ page }) => {
  await page.goto(`${hall.address}/m/spring/runs/${runs['b1']}`);
  await expect(page.getByRole('figure')).toHaveCount(1);
  // The picture for the paper is made when somebody prints, and before the page is taken.
  await expect(page.locator('figure canvas')).toBeVisible();
  await page.evaluate(() => {
    const printed = () => document.querySelectorAll('.paper svg path').length;
    addEventListener('beforeprint', () => Object.assign(window, { printed: printed() }));
  });
  await page.pdf();
  expect(await page.evaluate(() => (window as unknown as { printed: number }).printed)).toBeGreaterThan(0);
  await page.emulateMedia({ media: 'print' });
  await expect(page.locator('figure svg path').first()).toBeVisible();
  await expect(page.locator('figure canvas')).toBeHidden();
  expect(
    await page
      .getByRole('table', { name: 'Speed over time, as a table' })
      .evaluate((e) => e.getBoundingClientRect().height),
  ).toBeGreaterThan(100);
});

test('officials find a run from the list, families no run that does not count', async ({ page, browser }) => {
  await new CounterBox(hall, 'b2', 'spring').run('nobody-asked', 20, 6100);
  await page.goto(await hall.signIn());
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  await page.goto(`${hall.address}/desk/m/spring/rulings`);
  await page.locator('a[href$="/runs/nobody-asked"]').click();
  await expect(page.getByText(/^This run waits for an official/)).toBeVisible();
  await expect(page.getByRole('button', { name: /^Rule: run of Bench 2, \d/ })).toBeVisible();
  await sound(page);

  const family = await (await browser.newContext()).newPage();
  await family.goto(`${hall.address}/m/spring/runs/nobody-asked`);
  await expect(family.getByRole('alert')).toContainText('does not count');
  await sound(family);
});

test('a child finds its own sheet, and the class its numbers without names', async ({ page }) => {
  await page.goto(`${hall.address}/m/spring/standings/junior`);
  await page.getByRole('row').nth(1).getByRole('link').first().click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/^My numbers: \d+ \w+$/);
  // The division is for 6 to 10: their edition comes first, and the other is kept once it is chosen.
  await expect(page.getByRole('heading', { name: 'My sum' })).toBeVisible();
  await sound(page);
  await page.getByLabel('For 11 to 16').check();
  await expect(page.getByRole('heading', { name: 'My sum' })).toHaveCount(0);
  await page.reload();
  await expect(page.getByRole('heading', { name: 'Work it out yourself' })).toBeVisible();
  // The speed in a minute, and the distance of the whole race.
  await expect(page.getByText('× 94.25 mm ÷ 1000 =')).toHaveCount(2);
  await sound(page);
  await page.getByRole('link', { name: /without names$/ }).click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('All cars of Juniors 6 to 10');
  await expect(page.getByRole('figure')).toBeVisible();
  for (const name of ['Lantern', 'Puffin', 'Start number']) await expect(page.getByText(name)).toHaveCount(0);
  await sound(page);
});

test('a sheet leads to the practice of its car once that has practised', async ({ page }) => {
  await page.goto(`${hall.address}/m/spring/standings/junior`);
  await page.getByRole('row').nth(1).getByRole('link').first().click();
  const title = page.getByRole('heading', { level: 1 });
  await expect(title).toHaveText(/^My numbers: \d+ \w+$/);
  const start_number = Number(/\d+/.exec((await title.textContent())!)![0]);
  await page.getByLabel('For 11 to 16').check();
  await expect(page.getByRole('heading', { name: 'Work it out yourself' })).toBeVisible();
  const practised = page.getByRole('link', { name: /^Practice of car/ });
  await page.waitForLoadState('networkidle');
  await expect(practised).toHaveCount(0);
  await hall.ask('POST', '/benches/b1/practice', { car_number: start_number, race_s: 10 });
  const { run } = await hall.ask<{ run: string }>('GET', '/benches/b1/order');
  await new CounterBox(hall, 'b1').run(run, 10, 6000);
  await page.reload();
  await practised.click();
  await expect(page.getByRole('heading', { level: 1, name: `Practice of car ${start_number}` })).toBeVisible();
});
