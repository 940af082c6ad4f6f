import { expect, test, type Page, type WebSocketRoute } from '@playwright/test';
import { CounterBox, Hall, type Lane } from './bench-hall';
import { clean } from './clean';
import { enter, planList } from './list-hall';

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(180_000); // the binary may have to be built
  hall = await Hall.open();
  await hall.addBenches(1, 2);
});
test.afterAll(() => hall.close());

/** No page of the screen has a fault that axe finds, and none is wider than its window. */
async function sound(page: Page) {
  await clean(page);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth),
  ).toBeLessThanOrEqual(0);
}

const region = (page: Page, name: string) => page.getByRole('region', { name });

/** race runs a called heat on both benches, and lets `during` look at it half way. */
async function race(heat: string, lanes: Record<string, Lane>, rpm: Record<string, number>, during = async () => {}) {
  for (const [bench, lane] of Object.entries(lanes)) await hall.ready('spring', heat, bench, lane.racer.start_number);
  await hall.start('spring', heat);
  const runs = Object.entries(await hall.lanes('spring', heat)).map(([bench, lane]) =>
    new CounterBox(hall, bench, 'spring').begin(lane.armed!, 4, rpm[bench]),
  );
  for (const run of runs) await run.send(2);
  await during();
  for (const run of runs) await run.send(2);
}

test('a hall follows a heat from the call to the standings', async ({ page }) => {
  await page.setViewportSize({ width: 1920, height: 1080 });
  await page.goto(hall.address + '/m/spring');
  await expect(page.getByRole('heading', { name: 'No such race day' })).toBeVisible();

  await hall.planMeet('spring', ['b1', 'b2'], 2, 4);
  await page.reload();
  await expect(page.getByRole('heading', { level: 1, name: 'Harbour Hall spring meet' })).toBeVisible();
  await expect(region(page, 'Get ready')).toContainText('Lantern');
  await expect(region(page, 'Racing now')).toContainText('Nobody races at this moment.');
  await expect(region(page, 'Newest results')).toContainText('No result yet.');
  await sound(page);

  const lanes = await hall.call('spring', 'junior-1.1.1');
  await expect(region(page, 'Come to your bench')).toContainText('Bench 1');
  await expect(region(page, 'Come to your bench')).toContainText('within');

  await race('junior-1.1.1', lanes, { b1: 5000, b2: 6000 }, async () => {
    await expect(region(page, 'Racing now')).toContainText('Juniors 6 to 10: Round 1, heat 1');
    await expect(region(page, 'Racing now').getByText('km/h')).toHaveCount(2);
    await expect(region(page, 'Racing now').getByText('leads')).toBeVisible();
    await sound(page);
  });

  const faster = lanes['b2']!.racer.start_number;
  await expect(region(page, 'Newest results').getByRole('listitem').filter({ hasText: '1st' }).first()).toContainText(
    `Start number ${faster}`,
  );
  await expect(region(page, 'Newest results')).toContainText('±');
  await expect(region(page, 'Standings').getByRole('listitem').first()).toContainText(`Start number ${faster}`);
  await sound(page);

  await page.getByRole('link', { name: 'Standings Juniors 6 to 10' }).click();
  await expect(page.getByRole('row').nth(1)).toContainText('1st');
  await expect(page.getByText('As it stands now')).toBeVisible();
  await sound(page);

  await page.getByRole('link', { name: 'Rounds Juniors 6 to 10' }).click();
  await expect(page.getByRole('article').first()).toContainText('Round 1, heat 1');
  await sound(page);
});

test('the rules of the day stand on one sheet of paper', async ({ page, browserName }) => {
  await page.goto(hall.address + '/m/spring');
  await page.getByRole('link', { name: 'Rules', exact: true }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Rules of the day' })).toBeVisible();
  await expect(page.getByText('A result may change for 10 minutes after it is shown')).toBeVisible();
  await expect(
    page.getByText('Timed rounds, 2 rounds, each run lasts 4 seconds, up to 2 cars in a heat, the best run counts.'),
  ).toBeVisible();
  await expect(page.getByRole('row', { name: /^False start/ })).toBeVisible();
  for (const [width, height] of [
    [1440, 900],
    [390, 844],
  ] as const) {
    await page.setViewportSize({ width, height });
    await sound(page);
  }
  expect(browserName).toBe('chromium'); // which alone can print
  const pages = (await page.pdf({ format: 'A4' })).toString('latin1').match(/\/Type\s*\/Page[^s]/g);
  expect(pages).toHaveLength(1);
});

test('a pause says its reason, also on a phone and in the dark look', async ({ page }) => {
  await hall.ask('POST', '/meets/spring/pause', { reason: { code: 'lunch' } });
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto(hall.address + '/m/spring?look=ink');
  await expect(page.getByText('The race day is paused')).toBeVisible();
  await expect(page.getByText('Reason: Lunch.')).toBeVisible();
  await sound(page);
  await hall.ask('POST', '/meets/spring/resume');
  await expect(page.getByText('The race day is paused')).toBeHidden();
});

test('the practice board shows what a bench reads, and the run', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(hall.address + '/practice');
  await expect(page.getByText('No bench is running.')).toBeVisible();
  await expect(page.getByText('No practice run yet.')).toBeVisible();
  await sound(page);
  const run = new CounterBox(hall, 'b1').begin('practice-1', 4);
  await run.send(3);
  await expect(region(page, 'On the benches').getByText('km/h')).toBeVisible();
  await run.send(1);
  await expect(page.getByRole('row').nth(1)).toContainText('Bench 1');
  await sound(page);
});

test('a screen says since when it is cut off, keeps what it had, and goes on by itself', async ({ page }) => {
  let cut = true;
  const open: WebSocketRoute[] = [];
  await page.routeWebSocket(/\/live/, (socket) => {
    if (cut) return void socket.close();
    socket.connectToServer();
    open.push(socket);
  });
  await page.goto(hall.address + '/m/spring');
  await expect(page.getByText(/^The server cannot be reached since \d\d:\d\d:\d\d/)).toBeVisible();
  await sound(page);

  cut = false;
  await expect(page.getByText('Live', { exact: true })).toBeVisible({ timeout: 20_000 });
  await expect(region(page, 'Newest results')).toContainText('1st');

  cut = true;
  for (const socket of open) await socket.close();
  await expect(page.getByText(/^Cut off since \d\d:\d\d:\d\d/)).toBeVisible();
  await expect(region(page, 'Newest results')).toContainText('1st');
  await sound(page);

  cut = false;
  await expect(page.getByText('Live', { exact: true })).toBeVisible({ timeout: 20_000 });
  await expect(page.getByText(/^Cut off/)).toBeHidden();
});

test('every link and step back takes the keyboard to the new page, which is announced', async ({ page }) => {
  await page.goto(hall.address + '/m/spring');
  const focused = (name: string) => expect(page.getByRole('heading', { level: 1, name, exact: true })).toBeFocused();
  const announced = (name: string) =>
    expect(page.getByRole('status').filter({ hasText: name }).first()).toHaveText(name);
  await expect(page.getByRole('heading', { level: 1, name: 'Harbour Hall spring meet' })).toBeVisible();
  // A first visit begins at the top.
  expect(await page.evaluate(() => document.activeElement === document.body)).toBe(true);

  await page.getByRole('link', { name: 'Rules', exact: true }).click();
  await focused('Rules of the day');
  await announced('Rules of the day');
  await page.getByRole('link', { name: 'Race days', exact: true }).click();
  await focused('Benchmeet');
  await announced('Benchmeet');
  await page.goBack();
  await focused('Rules of the day');
  await page.goBack();
  await focused('Harbour Hall spring meet');
  await announced('Harbour Hall spring meet');
  await page.goForward();
  await focused('Rules of the day');
});

test('a sheet that is open gets the race that has just come', async ({ page, context }) => {
  await hall.planMeet('summer', ['b1', 'b2'], 2, 4);
  const lanes = await hall.call('summer', 'junior-1.1.1');
  const { entry } = lanes['b1']!.racer;
  await page.goto(hall.address + `/m/summer/cars/${entry}?for=older`);
  await expect(page.getByText('No race counts yet.')).toBeVisible();
  await expect(page.getByText('Live', { exact: true })).toBeVisible();
  const asked: string[] = [];
  page.on('request', (request) => {
    const { pathname } = new URL(request.url());
    if (pathname.startsWith('/api/')) asked.push(pathname);
  });
  const table = await context.newPage();
  await table.goto(hall.address + '/m/summer/class/junior');
  await expect(table.getByText('No bench has counted a race yet.')).toBeVisible();
  for (const [bench, lane] of Object.entries(lanes))
    await hall.ready('summer', 'junior-1.1.1', bench, lane.racer.start_number);
  await hall.start('summer', 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(await hall.lanes('summer', 'junior-1.1.1')))
    await new CounterBox(hall, bench, 'summer').run(lane.armed!, 4);
  await expect(page.getByRole('row').filter({ hasText: 'Round 1' })).toBeVisible();
  await expect(table.getByRole('row').nth(2)).toBeVisible();
  // What came over the feed is not asked for; the curve of the best run is what the sums are made of.
  const { runs } = await hall.ask<{ runs: { id: string; racer?: { entry: string } }[] }>('GET', '/meets/summer/runs');
  const own = runs.find((run) => run.racer?.entry === entry)!.id;
  await expect.poll(() => asked).toEqual([`/api/v1/meets/summer/runs/${own}/curve`]);
  await sound(page);
});

test('a page that is cut off says so however far it is scrolled', async ({ page }) => {
  const open: WebSocketRoute[] = [];
  let cut = false;
  await page.routeWebSocket(/\/live/, (socket) => {
    if (cut) return void socket.close();
    socket.connectToServer();
    open.push(socket);
  });
  await page.setViewportSize({ width: 390, height: 740 });
  await page.goto(hall.address + '/m/spring');
  await expect(page.getByText('Live', { exact: true })).toBeVisible();
  cut = true;
  for (const socket of open) await socket.close();
  const banner = page.getByText(/^Cut off since/);
  await expect(banner).toBeVisible();
  await page.evaluate(() => scrollTo(0, 100_000));
  expect(await page.evaluate(() => scrollY)).toBeGreaterThan(100);
  await expect(banner).toBeInViewport();
  await sound(page);
});

test('a car is found by its number or by the nickname that the screens show, on a phone and by the keyboard', async ({
  page,
}) => {
  await planList(hall, 'autumn');
  const shown = { birth_date: '2018-05-02', on_screen: true, in_results: true, photo: false };
  const nicknamed = (display_name: string, more = {}) => ({
    person: { name: 'Robin Example', display_name, ...shown, ...more },
  });
  await enter(hall, 'autumn', 7, 'Kit', nicknamed('Élan'));
  await enter(hall, 'autumn', 12, 'Kit', nicknamed('Puffin'));
  await enter(hall, 'autumn', 120, 'Kit', { ...nicknamed('Puffin the Second'), division: 'open' });
  await enter(hall, 'autumn', 35, 'Kit', nicknamed('Hidden Heron', { on_screen: false }));
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(hall.address + '/m/autumn');
  await page.getByRole('link', { name: 'Find your car' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'All cars' })).toBeFocused();
  await expect(page).toHaveURL(hall.address + '/m/autumn/cars');
  const cars = page.getByRole('main').getByRole('listitem');
  await expect(cars).toHaveCount(4);
  await expect(region(page, 'Juniors 6 to 10').getByRole('listitem')).toHaveText([/7\s*Élan/, /12\s*Puffin/, /35/]);
  await expect(region(page, 'Open').getByRole('listitem')).toHaveText([/120\s*Puffin the Second/]);
  await sound(page);
  // A thumb is about 44 px wide, and every mark of the page is as large.
  for (const marks of [page.getByRole('main').locator('a, button, input'), page.getByRole('navigation').locator('a')]) {
    await expect(marks).not.toHaveCount(0);
    const sizes = await marks.evaluateAll((all) =>
      all.map((each) => Math.min(each.getBoundingClientRect().width, each.getBoundingClientRect().height)),
    );
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(44);
  }

  // Nobody is found by what the screens do not show.
  const field = page.getByRole('searchbox', { name: 'Find a car' });
  for (const hidden of ['Heron', 'Robin', 'Example']) {
    await field.fill(hidden);
    await expect(page.getByText('No car has this number or nickname.')).toBeVisible();
    await expect(cars).toHaveCount(0);
  }
  await field.fill('35');
  await expect(cars).toHaveCount(1);
  await field.fill('puffin');
  await expect(cars).toHaveCount(2);
  await expect(page.getByRole('status').filter({ hasText: '2 cars found' })).toBeAttached();
  await page.keyboard.press('Enter'); // which may mean either
  await expect(page).toHaveURL(hall.address + '/m/autumn/cars?find=puffin');

  // By the keyboard: the number, and Enter.
  await field.fill('12');
  await expect(cars).toHaveCount(2);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'My numbers: 12 Puffin' })).toBeFocused();
  await page.goBack();
  await expect(field).toHaveValue('12');
  await expect(cars).toHaveCount(2);
  await field.fill('');
  await field.press('Tab');
  await page.keyboard.press('Tab');
  await expect(page.getByRole('link', { name: /7\s*Élan/ })).toBeFocused();
  await field.fill('elan');
  await expect(cars).toHaveCount(1);
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'My numbers: 7 Élan' })).toBeFocused();

  // The foot of every public page has them, also of a wall, where nobody can press the other link.
  await expect(page.getByRole('navigation').getByRole('link', { name: 'All cars' })).toBeVisible();
  await page.setViewportSize({ width: 1920, height: 1080 });
  await page.goto(hall.address + '/m/autumn');
  await expect(page.getByRole('link', { name: 'Find your car' })).toBeHidden();
  await page.getByRole('navigation').getByRole('link', { name: 'All cars' }).click();
  await expect(cars).toHaveCount(4);
  await sound(page);

  // A car that is entered later comes by itself.
  await expect(page.getByText('Live', { exact: true })).toBeVisible();
  await enter(hall, 'autumn', 40, 'Kit', nicknamed('Wren'));
  await expect(cars).toHaveCount(5);
});
