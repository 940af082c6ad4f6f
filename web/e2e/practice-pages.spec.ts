import { expect, test, type Page } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';
import { Keyboard } from './desk-keyboard';
import { letters, printed } from './pdf';

// What an afternoon leaves: the plot of the class, lessons that are ready, sheets for the leader and the families, and
// the page on which a comparison is worked out by hand.
test.describe.configure({ mode: 'serial' });

let hall: Hall;
let session: string;
const cars = [3, 4, 5, 6, 7];
test.beforeAll(async () => {
  test.setTimeout(240_000);
  hall = await Hall.open();
  await hall.addBenches(1);
  const box = new CounterBox(hall, 'b1');
  const opened = await hall.ask<{ id: string }>('POST', '/practice/sessions', { benches: ['b1'], race_s: 20, turn: 2 });
  session = opened.id;
  const gear = (car: number, driving_teeth: number) =>
    hall.ask('POST', `/practice/cars/${car}/setups`, {
      setup: {
        driving_teeth,
        driven_teeth: 32,
        cells: 2 + (car % 2),
        chemistry: 'nickel-metal-hydride',
        wheel_mm: 24 + car / 2,
      },
    });
  const run = async (rpm: number) => {
    const { run } = await hall.ask<{ run: string }>('GET', '/benches/b1/order');
    await box.run(run, 20, rpm);
  };
  for (const car of cars) {
    await gear(car, 8);
    await hall.ask('POST', `/practice/sessions/${session}/queue`, { car_number: car });
  }
  for (const car of cars) for (const by of [0, 12]) await run(5500 + 130 * car + by);
  // The last car tries another gear, and goes back: four fittings of each, two in a hundred apart.
  for (const car of cars.slice(0, -1)) await hall.ask('DELETE', `/practice/sessions/${session}/queue/${car}`);
  for (const [nth, driving] of [9, 9, 8, 9, 8, 8, 9].entries()) {
    if (nth === 0 || driving !== [9, 9, 8, 9, 8, 8, 9][nth - 1]) await gear(7, driving);
    await run((driving === 9 ? 6580 : 6460) - 3 * nth + [0, 5, -4, 6, -5, 3, 0][nth]!);
  }
});
test.afterAll(() => hall.close());

const shot = (page: Page, name: string) =>
  process.env['KEEP_SHOTS']
    ? page.screenshot({ path: `${process.env['KEEP_SHOTS']}/${name}.png`, fullPage: true })
    : undefined;

test('the class in one picture, without names, which grows while they work', async ({ page }) => {
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto(`${hall.address}/practice`);
  await page.getByRole('link', { name: 'The class in one picture' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'The class in one picture' })).toBeVisible();
  await expect(page.getByText('6 points of 5 cars', { exact: false })).toBeVisible();
  // Each plot has a name and can be read off by the arrow keys.
  for (const name of ['Gear and speed', 'Cells and speed', 'Wheel and speed']) {
    await expect(page.getByRole('figure', { name })).toBeVisible();
    const cursor = page.getByRole('slider', { name: new RegExp(name) });
    await cursor.focus();
    await page.keyboard.press('ArrowRight');
    await expect(cursor).toHaveAttribute('aria-valuetext', /km\/h/);
  }
  const table = page.getByRole('table', { name: 'Every point' });
  await expect(table.getByRole('row')).toHaveCount(7);
  for (const car of cars) await expect(table).not.toContainText(`car ${car}`);
  await shot(page, '20-class');
  await clean(page);
  await page.getByRole('button', { name: 'Today alone' }).click();
  await expect(page.getByRole('link', { name: 'Save as a table' })).toHaveAttribute('href', new RegExp(session));
  await hall.ask('POST', '/practice/cars/3/setups', {
    setup: { driving_teeth: 10, driven_teeth: 32, cells: 3, chemistry: 'nickel-metal-hydride', wheel_mm: 25.5 },
  });
  await hall.ask('POST', '/benches/b1/practice', { car_number: 3, race_s: 20 });
  const { run } = await hall.ask<{ run: string }>('GET', '/benches/b1/order');
  await new CounterBox(hall, 'b1').run(run, 20, 6250);
  await expect(page.getByText('7 points of 5 cars', { exact: false })).toBeVisible();
  await page.setViewportSize({ width: 360, height: 740 });
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  await shot(page, '21-class-phone');
});

test('a comparison is worked out by hand on a page of its own', async ({ page }) => {
  await page.goto(`${hall.address}/practice/cars/7`);
  const second = page.locator('section').filter({ has: page.getByRole('heading', { name: 'Compared by hand' }) });
  await expect(second).toBeVisible();
  // Whoever follows the sums comes to what stands there.
  const worked = await second.locator('.worked').allInnerTexts();
  const plain = (text: string) => text.replaceAll('\u2212', '-').replaceAll('\u00a0', ' ');
  for (const line of worked.map(plain).filter((text) => text.includes('='))) {
    const [left, right] = line.replace(/^[a-z]+: /, '').split('=') as [string, string];
    const sum = left.replaceAll('÷', '/').replaceAll('×', '*').replaceAll(',', '');
    expect(sum, line).toMatch(/^[\d.+\-/* ]+$/);
    const reckoned = Function(`return (${sum})`)() as number;
    const [, written] = /(-?[\d.]+)/.exec(right.replaceAll(',', ''))!;
    const digits = written!.split('.')[1]?.length ?? 0;
    expect(Math.abs(reckoned - Number(written)), line).toBeLessThanOrEqual(0.5 * 10 ** -digits + 1e-9);
  }
  expect(worked.length).toBeGreaterThanOrEqual(8);
  await shot(page, '22-second');
  await clean(page);
  const pages = await printed(page, 'A4', 'car-life');
  expect(pages.some((one) => one.flow.includes('What could have gone otherwise'))).toBe(true);
  for (const one of pages) expect(one.over).toEqual([]);
  expect((await letters(page, '.second')).smallest).toBeGreaterThanOrEqual(9);
});

test('one car beside another one, and on one bench beside another bench', async ({ page }) => {
  // On benches that the afternoon does not have.
  await hall.addBenches(2, 3);
  const one = new CounterBox(hall, 'b2');
  const other = new CounterBox(hall, 'b3');
  const drive = async (bench: string, car: number, rpm: number) => {
    await hall.ask('POST', `/benches/${bench}/practice`, { car_number: car, race_s: 15 });
    const { run } = await hall.ask<{ run: string }>('GET', `/benches/${bench}/order`);
    await (bench === 'b2' ? one : other).run(run, 15, rpm);
  };
  for (let nth = 0; nth < 4; nth++) {
    await drive('b2', 21, 6000 + 3 * nth);
    await drive('b2', 22, 6120 + 3 * ((nth + 1) % 4));
  }
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto(`${hall.address}/practice/cars/21`);
  const beside = page.locator('section').filter({ has: page.getByRole('heading', { name: 'Which is farther?' }) });
  const key = beside.getByRole('button', { name: 'Car 22' });
  await key.focus();
  await page.keyboard.press('Enter');
  await expect(beside.getByText(/^Car 22 is farther by \d\.\d+ % \(between \d\.\d+ and \d\.\d+\)\.$/)).toBeVisible();
  await expect(key).toHaveAttribute('aria-pressed', 'true');
  await expect(beside.getByRole('img', { name: /^Car 21: [\d., and]+ m\. Car 22: / })).toBeVisible();
  const said = (await beside.getByText(/is farther by/).textContent())!.match(/\d+\.\d+/g)!.map(Number);
  expect(said[1]).toBeLessThan(2);
  expect(said[2]).toBeGreaterThan(2);
  await shot(page, '25-beside');
  await clean(page);
  await beside.getByRole('button', { name: 'Car 3' }).click();
  await expect(beside.getByText('Not a fair test: another bench.')).toBeVisible();
  // From the other side it is the same car that is farther.
  await page.goto(`${hall.address}/practice/cars/22`);
  await beside.getByRole('button', { name: 'Car 21' }).click();
  await expect(beside.getByText(/^Car 22 is farther by/)).toBeVisible();

  for (let nth = 0; nth < 4; nth++) await drive('b3', 21, 5900 + 2 * nth);
  await page.goto(`${hall.address}/practice/cars/21`);
  await beside.getByRole('button', { name: 'Bench 2 and 3' }).click();
  await expect(beside.getByText('Not a fair test: one after the other. Take turns.')).toBeVisible();
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  await shot(page, '26-benches');
});

test('three lessons are reckoned for who is there', async ({ page }) => {
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto(await hall.signIn());
  await page.goto(`${hall.address}/desk/practice`);
  // Who is there comes late: nothing changes under the hand of whoever types.
  let told = () => {};
  const late = new Promise<void>((done) => (told = done));
  await page.route('**/api/v1/practice/sessions?*', async (route) => {
    await late;
    await route.continue();
  });
  await page.getByRole('link', { name: 'Lessons' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Three lessons of 45 minutes' })).toBeVisible();
  await expect(page.getByRole('heading', { name: 'Lesson 1', exact: false })).toBeVisible();
  await expect(page.getByLabel('Children')).toHaveCount(0);
  told();
  await page.getByLabel('Children').fill('10');
  await page.getByLabel('Seconds a run').fill('15');
  await expect(page.getByText('In pairs, one drives and one writes', { exact: false }).first()).toContainText(
    '5 cars, up to 8 runs each',
  );
  await page.getByLabel('Benches').fill('3');
  await expect(page.getByText('Each child has a car: 10 cars, up to 12 runs each.').first()).toBeVisible();
  await shot(page, '23-lessons');
  await clean(page);
  const pages = await printed(page, 'A4', 'lessons');
  expect(pages.length).toBeLessThanOrEqual(4);
  for (const one of pages) expect(one.over).toEqual([]);
  expect((await letters(page, 'main')).smallest).toBeGreaterThanOrEqual(9);
  await page.setViewportSize({ width: 360, height: 740 });
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
});

/** countPrints has the page count what is sent to the printer. */
const countPrints = (page: Page) =>
  page.evaluate(() => {
    Object.assign(window, { prints: 0, print: () => (window as unknown as { prints: number }).prints++ });
  });
const prints = (page: Page) => page.evaluate(() => (window as unknown as { prints: number }).prints);

/** named holds that each picture that says something has a name that is spoken. */
async function named(page: Page, least: number): Promise<void> {
  const pictures = page.locator('svg[role=img], figure, [role=slider]');
  expect(await pictures.count()).toBeGreaterThanOrEqual(least);
  for (const one of await pictures.all()) await expect(one).toHaveAccessibleName(/\w{3}/);
}

test('the class, a car, the lessons and the sheets by keyboard alone', async ({ page }) => {
  test.setTimeout(120_000);
  const k = new Keyboard(page);
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto(`${hall.address}/practice`);
  await k.follow('The class in one picture');
  await expect(page.getByRole('heading', { level: 1, name: 'The class in one picture' })).toBeVisible();
  await k.press('Today alone');
  await expect(page.getByRole('button', { name: 'Today alone' })).toHaveAttribute('aria-pressed', 'true');
  const link = page.getByRole('link', { name: 'Save as a table' });
  await k.to(link);
  await expect(link).toHaveAttribute('href', new RegExp(session));
  for (const name of ['Gear and speed', 'Cells and speed', 'Wheel and speed']) {
    const cursor = page.getByRole('slider', { name: new RegExp(name) });
    await k.to(cursor);
    await page.keyboard.press('Home');
    const first = await cursor.getAttribute('aria-valuetext');
    await page.keyboard.press('End');
    await expect(cursor).not.toHaveAttribute('aria-valuetext', first!);
    await expect(cursor).toHaveAttribute('aria-valuetext', /^At .+km\/h/);
  }
  // The table is wider than a phone: it can be reached, and scrolled by the arrow keys.
  const region = page.getByRole('region', { name: 'Every point' });
  await k.to(region);
  await page.keyboard.press('ArrowRight');
  await expect.poll(() => region.evaluate((one) => one.scrollLeft)).toBeGreaterThan(0);
  await named(page, 6);
  await clean(page);

  await page.goto(`${hall.address}/practice/cars/7`);
  await expect(page.getByRole('heading', { level: 1, name: 'Practice of car 7' })).toBeVisible();
  await countPrints(page);
  await k.press('Print');
  expect(await prints(page)).toBe(1);
  await named(page, 3);
  await clean(page);

  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto(await hall.signIn());
  await page.goto(`${hall.address}/desk/practice`);
  await k.follow('Lessons');
  await k.type('Children', '10');
  await k.type('Benches', '3');
  await k.type('Seconds a run', '15');
  await expect(page.getByText('Each child has a car: 10 cars, up to 12 runs each.').first()).toBeVisible();
  await countPrints(page);
  await k.press('Print, a page each');
  expect(await prints(page)).toBe(1);
  await clean(page);
  await k.follow('Back to practice');
  const sheets = page.getByRole('link', { name: 'Sheets for you and the families' }).first();
  await k.to(sheets);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'After the afternoon' })).toBeVisible();
  await countPrints(page);
  await k.press('Print all');
  expect(await prints(page)).toBe(1);
  await clean(page);
});

test('the runs of a car stand in a table that fits a phone: a day is on one line', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto(`${hall.address}/practice/cars/7`);
  const rows = page.getByRole('table', { name: 'Every run, the newest first' }).getByRole('row');
  await expect(rows).toHaveCount(10);
  for (const row of await rows.all()) expect((await row.boundingBox())!.height).toBeLessThanOrEqual(80);
  const table = page.getByRole('table', { name: 'Every run, the newest first' });
  expect((await table.boundingBox())!.width).toBeLessThanOrEqual(360);
  await table.scrollIntoViewIfNeeded();
  await shot(page, '27-runs');
});

test('a page for the leader and half a page for each family', async ({ page }) => {
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto(await hall.signIn());
  await page.goto(`${hall.address}/desk/practice`);
  await page.getByRole('link', { name: 'Sheets for you and the families' }).first().click();
  await expect(page.getByRole('heading', { level: 1, name: 'After the afternoon' })).toBeVisible();
  const half = page.getByRole('region', { name: 'Car 7', exact: true });
  await expect(half).toContainText('Your car made 9 runs.');
  await expect(half).toContainText('Tried: gear 8 : 32 → gear 9 : 32.');
  // Of other cars a family reads nothing.
  for (const car of cars.slice(0, -1)) await expect(half).not.toContainText(`Car ${car}`);
  await shot(page, '24-home');
  await clean(page);
  const pages = await printed(page, 'A4', 'home');
  // A page for the leader, and two halves on a page: five families are three pages.
  expect(pages).toHaveLength(4);
  for (const one of pages) expect(one.over).toEqual([]);
  expect(pages.slice(1).map((one) => one.flow.match(/A practice afternoon on/g)?.length)).toEqual([2, 2, 1]);
  expect((await letters(page, 'main')).smallest).toBeGreaterThanOrEqual(9);
});
