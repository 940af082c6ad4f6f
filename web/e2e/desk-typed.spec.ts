import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { planTable } from './table-hall';

const meet = 'typed';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await planTable(hall, meet, ['b1', 'b2'], 2, 'warn');
});
test.afterAll(() => hall.close());

test('a circumference that is no other bench’s is asked back, and can be stood by', async ({ page }) => {
  await page.goto(await hall.signIn('organiser', 'desk'));
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/benches`);
  await page.getByRole('button', { name: 'Register a bench' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Roller circumference in mm').fill('942.5');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await expect(dialog.getByText('942.5 mm is another roller altogether')).toBeVisible();
  await clean(page);
  await dialog.getByRole('checkbox', { name: '942.5 mm is right' }).check();
  await dialog.getByRole('button', { name: 'Save' }).click();
  await expect(dialog).toBeHidden();
  const { benches } = await hall.ask<{ benches: { number: number; circumference_mm: number }[] }>('GET', '/benches');
  expect(benches.find((each) => each.number === 3)?.circumference_mm).toBe(942.5);
});

test('a count that no car has run is asked back, and the right one goes in', async ({ page }) => {
  const heat = 'junior-1.1.1';
  const lanes = Object.entries(await hall.call(meet, heat));
  for (const [bench, lane] of lanes) await hall.ready(meet, heat, bench, lane.racer.start_number);
  await hall.start(meet, heat);
  await hall.ask('POST', `/meets/${meet}/heats/${heat}/hand-count`, {
    entry: lanes[0]![1].racer.entry,
    distance_m: 48,
    u_distance_m: 0.5,
  });
  await page.goto(await hall.signIn('organiser', 'desk'));
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/${meet}`);
  await page.getByRole('button', { name: /^Enter a hand count: / }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Distance in m').fill('470');
  await dialog.getByLabel('Standard uncertainty in m').fill('0.9');
  await dialog.getByRole('button', { name: 'Hand it in' }).click();
  await expect(dialog.getByText('470.0 m is far from what cars run here, 48.0 to 48.0 m')).toBeVisible();
  await expect(dialog.getByRole('checkbox', { name: '470 m is right' })).not.toBeChecked();
  await dialog.getByLabel('Distance in m').fill('47');
  await dialog.getByRole('button', { name: 'Hand it in' }).click();
  await expect(dialog).toBeHidden();
  const { runs } = await hall.ask<{ runs: { figures: { distance_m: number } }[] }>('GET', `/meets/${meet}/runs`);
  expect(runs.map((run) => run.figures.distance_m).sort()).toEqual([47, 48]);
});
