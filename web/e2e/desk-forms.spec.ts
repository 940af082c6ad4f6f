import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { Keyboard } from './desk-keyboard';
import { drawFirst, drawNext, planForms, raceHeat, raceRound } from './forms-hall';

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await planForms(hall, 'winter');
});
test.afterAll(() => hall.close());

test.use({ viewport: { width: 1280, height: 800 } });

test('heats of many by keyboard: planned, drawn, raced to a tie, and their screen', async ({ page }) => {
  test.setTimeout(120_000);
  const k = new Keyboard(page);
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();

  await test.step('the plan says how many races are sure, and the form takes another one', async () => {
    await page.goto(`${hall.address}/desk/m/winter/plan`);
    await expect(page.getByText('Of 9 cars each is sure of 1 race.')).toBeVisible();
    await expect(page.getByText('somebody goes home after one race')).toBeVisible();
    await clean(page);
    await k.press('Change Plate 11 to 12');
    await k.tick('Two legs with the benches changed', k.dialog());
    await clean(page);
    await k.press('Save the division', k.dialog());
    await expect(page.getByText('Of 6 cars each is sure of 4 races.')).toBeVisible();
  });

  await test.step('a tie where the next best decides names both cars', async () => {
    await drawFirst(hall, 'winter', 'heats');
    for (const n of [1, 2, 3]) await raceHeat(hall, 'winter', `heats-1.1.${n}`, () => 250);
    await page.goto(`${hall.address}/desk/m/winter`);
    await expect(page.getByRole('heading', { name: 'A tie that has to be decided' }).first()).toBeVisible();
    await clean(page);
  });
});

test('lanes by a design, a plate and legs on the desk and on the screen', async ({ page }) => {
  test.setTimeout(120_000);
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await drawFirst(hall, 'winter', 'design');
  await page.goto(`${hall.address}/desk/m/winter/programme/design`);
  await expect(page.getByText('Youden square: 7 cars in heats of 3.')).toBeVisible();
  await expect(page.getByText('planned').first()).toBeVisible();
  await clean(page);
  await raceRound(hall, 'winter', 'design', () => 250);
  await expect(page.getByText('8 points').first()).toBeVisible();

  await drawFirst(hall, 'winter', 'legs');
  await raceHeat(hall, 'winter', 'legs-1.1.1');
  await raceHeat(hall, 'winter', 'legs-1.1.1.2', (n) => 200 + n);
  await page.goto(`${hall.address}/m/winter/bracket/legs`);
  await expect(page.getByText('1 leg').first()).toBeVisible();
  await clean(page);
  await page.getByRole('link', { name: 'As a list' }).click();
  await expect(page.getByText('Semi-final 1, decider')).toBeVisible();
  await expect(page.getByText('Winner of Semi-final 2')).toBeVisible();
  await clean(page);
  // Both legs of a round stand in its column.
  await page.goto(`${hall.address}/m/winter/standings/legs`);
  await expect(page.getByRole('cell').filter({ hasText: /27\d\.0\s*22\d\.0/ })).toHaveCount(2);
});

test('a draw that a correction has outdated is let stand', async ({ page }) => {
  test.setTimeout(120_000);
  const k = new Keyboard(page);
  await planForms(hall, 'spring');
  await drawFirst(hall, 'spring', 'plate');
  await raceRound(hall, 'spring', 'plate');
  await drawNext(hall, 'spring', 'plate');
  const { heats } = await hall.ask<{ heats: { id: string; lanes: { place?: number; racer: { entry: string } }[] }[] }>(
    'GET',
    '/meets/spring/heats',
  );
  const first = heats.find((h) => h.id === 'plate-1.1.1')!;
  const winner = first.lanes.find((l) => l.place === 1)!.racer.entry;
  await hall.call('spring', 'plate-1.2.1');
  await hall.ask('POST', '/meets/spring/rulings', {
    kind: 'penalise',
    heat: first.id,
    entry: winner,
    penalty_m: 100,
    reason: { code: 'false-start' },
  });
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/spring/programme/plate`);
  await expect(page.getByText('The last draw stands on a result that a ruling has changed since.')).toBeVisible();
  await clean(page);
  await k.press(/^Let the draw stand/);
  await clean(page);
  await k.press('Let the draw stand', k.dialog());
  await expect(page.getByText('The last draw stands on a result')).toHaveCount(0);
  expect((await hall.log('spring')).at(-1)).toBe('DrawLetStand');
});
