import { expect, test, type Page } from '@playwright/test';
import { lifeIn, orderIn, shot, type Order } from './afternoon-hall';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

// A leader with one bench and no meet, and four children, on one phone.
test.use({ viewport: { width: 360, height: 740 }, hasTouch: true });
test.describe.configure({ mode: 'serial' });

let hall: Hall;
let box: CounterBox;
test.beforeAll(async () => {
  test.setTimeout(240_000);
  hall = await Hall.open();
  await hall.addBenches(1);
  box = new CounterBox(hall, 'b1');
});
test.afterAll(() => hall.close());

const order = () => orderIn(hall);
const life = (car: number) => lifeIn(hall, car);

/** armedFor waits until the bench waits for a run of a car. */
async function armedFor(car: number): Promise<Order & { run: string }> {
  await expect.poll(async () => (await order()).start_number).toBe(car);
  return (await order()) as Order & { run: string };
}

/** drive makes the armed run at a speed, and waits until the next one is armed. */
async function drive(car: number, rpm: number): Promise<string> {
  const { run, race_s } = await armedFor(car);
  await box.run(run, race_s!, rpm);
  await expect.poll(async () => (await order()).run).not.toBe(run);
  return run;
}

let keys = 0;
/** press is one key of a person. */
async function press(page: Page, name: string | RegExp): Promise<void> {
  keys++;
  await page.getByRole('button', { name, exact: typeof name === 'string' }).click();
}

/** above holds that what people need now is seen without scrolling. */
async function above(page: Page, ...names: (string | RegExp)[]): Promise<void> {
  await page.evaluate(() => scrollTo(0, 0));
  for (const name of names) {
    const box = (await page.getByRole('button', { name, exact: typeof name === 'string' }).boundingBox())!;
    expect(box.y + box.height, `${name}`).toBeLessThanOrEqual(740);
    expect(box.height, `${name}`).toBeGreaterThanOrEqual(48);
  }
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
}

test('an afternoon of four children on one bench', async ({ page, context }) => {
  test.setTimeout(300_000);
  await page.goto((await hall.signIn()).replace('/desk#', '/bench/b1#'));
  await press(page, 'Open a practice afternoon here');
  await expect(page.getByLabel('The number on the car')).toBeVisible();
  await shot(page, '1-empty');
  await clean(page);

  // The first child types its number, and the bench waits for it.
  await press(page, '7');
  await press(page, 'Queue up');
  await expect(page.getByText('Put car 7 on. Hold it. Let go.')).toBeVisible();
  await above(page, 'Guess', 'Stop: take this run back');
  await shot(page, '2-armed');
  await clean(page);
  for (const car of [8, 9, 12]) {
    await press(page, 'Other number');
    for (const digit of String(car)) await press(page, digit);
    await press(page, 'Queue up');
    await expect(page.getByText(new RegExp(`^Car ${car}, `))).toHaveCount(1);
  }
  await shot(page, '3-queue');

  // Guess first: it is hidden until the run is over.
  await press(page, 'Guess');
  await shot(page, '4-guess');
  await clean(page);
  for (const digit of '30') await press(page, digit);
  await press(page, 'That is my guess');
  await expect(page.getByRole('button', { name: 'Guess is in' })).toBeVisible();

  // Go and end are seen as colour, shape and word; a box that falls silent is said.
  const first = await armedFor(7);
  const run = box.begin(first.run, first.race_s!, 6300);
  await run.send(2);
  await expect(page.getByRole('region', { name: 'Go' })).toContainText('Hands off');
  await expect(page.getByRole('region', { name: 'Go' })).toContainText(/left1[89]/);
  await shot(page, '5-go');
  await clean(page);
  await expect(page.getByText('No word from the counter box.')).toBeVisible({ timeout: 5_000 });
  await above(page, 'Stop: take this run back');
  await shot(page, '6-silent');
  await run.send(18);
  // 6,300 turns a minute of 94.25 mm for 20 s, the first half second of it at half speed.
  const metres = Math.round((6300 / 60) * 0.09425 * 19.75);
  await expect(page.getByRole('region', { name: 'Car 7, last run' })).toContainText(`${metres} m`);
  await expect(page.getByRole('region', { name: 'Car 7, last run' })).toContainText('Guess 30 m');
  await shot(page, '7-measured');

  // The bench goes on by itself: the second run of the turn, then the next car, without a key.
  keys = 0;
  await drive(7, 6330);
  await expect(page.getByText('Put car 8 on. Hold it. Let go.')).toBeVisible();
  await drive(8, 6000);
  // The wrong car stood on the roller: one touch moves its run, and it can be moved back.
  const wrong = await drive(8, 6600);
  await expect(page.getByText('Put car 9 on. Hold it. Let go.')).toBeVisible();
  const moved = Math.round((6600 / 60) * 0.09425 * 19.75);
  await expect(page.getByRole('region', { name: 'Car 8, last run' })).toContainText(`${moved} m`);
  await press(page, 'Not mine');
  await shot(page, '8-not-mine');
  await press(page, 'It was car 9');
  await expect(page.getByText('It stands under car 9 now.')).toBeVisible();
  await expect.poll(async () => (await life(9)).runs.map((one) => one.id)).toContain(wrong);
  await press(page, 'Back to car 8');
  await expect.poll(async () => (await life(8)).runs.map((one) => one.id)).toContain(wrong);
  expect((await life(9)).runs).toHaveLength(0);

  // Three runs, a wrong car and its way back among them, at most three keys a run.
  expect(keys).toBeLessThanOrEqual(3 * 3);

  // A gear is changed by picking.
  await press(page, 'Changed something');
  await expect(page.getByRole('heading', { name: 'What is new at car 9?' })).toBeVisible();
  await shot(page, '9-changed');
  await clean(page);
  await press(page, /^Gear/);
  await press(page, 'Teeth on the motor: more');
  await shot(page, '10-gear');
  await press(page, 'Save');
  await expect
    .poll(async () => (await hall.ask<{ setup: object }>('GET', '/practice/cars/9')).setup)
    .toMatchObject({ driving_teeth: 9, driven_teeth: 32 });
  await drive(9, 6100);
  expect((await life(9)).runs[0]).toMatchObject({ state: 1, counts: true });

  // Cut off: what is pressed waits, and is done once.
  const geared = Math.round((6100 / 60) * 0.09425 * 19.75);
  await expect(page.getByRole('region', { name: 'Car 9, last run' })).toContainText(`${geared} m`);
  await expect(page.getByRole('button', { name: 'Guess', exact: true })).toBeVisible();
  await context.setOffline(true);
  await press(page, 'Guess');
  for (const digit of '150') await press(page, digit);
  await press(page, 'That is my guess');
  const alone = await armedFor(9);
  await page.waitForTimeout(1_500);
  await context.setOffline(false);
  await expect.poll(async () => (await hall.ask<{ guessed?: boolean }>('GET', '/benches/b1/order')).guessed).toBe(true);
  await box.run(alone.run, alone.race_s!, 6120);
  await expect.poll(async () => (await life(9)).runs.at(-1)?.guess_m).toBe(150);
  expect((await life(9)).runs).toHaveLength(2);

  // The wall says who is on, who is next, and what each did against itself; a car has its own page.
  const wall = await context.newPage();
  await wall.setViewportSize({ width: 1920, height: 1080 });
  await wall.goto(`${hall.address}/practice`);
  await expect(wall.getByRole('heading', { name: 'Each car against itself' })).toBeVisible({ timeout: 30_000 });
  await expect(wall.getByText('waits for car 12')).toBeVisible();
  await shot(wall, '11-wall');
  await clean(wall);
  await wall.getByRole('link', { name: 'All practice of car 9' }).first().click();
  await expect(wall.getByRole('heading', { level: 1, name: 'Practice of car 9' })).toBeVisible({ timeout: 30_000 });
  await expect(wall.getByRole('img', { name: /^2 runs between/ })).toBeVisible({ timeout: 30_000 });
  await shot(wall, '12-life');
  await clean(wall);
  await wall.setViewportSize({ width: 390, height: 844 });
  await expect.poll(() => wall.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await wall.setViewportSize({ width: 1440, height: 900 });
  await wall.goto(`${hall.address}/desk/practice`);
  await expect(wall.getByRole('table', { name: 'Cars of the afternoon' })).toContainText('9', { timeout: 30_000 });
  await shot(wall, '13-desk');
  await clean(wall);
  await wall.close();
});
