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

test('a roller is entered as it was measured, and each figure can be followed', async ({ page }) => {
  interface Bench {
    number: number;
    circumference_mm: number;
    circumference_u_mm: number;
    rolled?: object;
    caliper?: object;
  }
  const bench = async () =>
    (await hall.ask<{ benches: Bench[] }>('GET', '/benches')).benches.find((b) => b.number === 4);
  await page.goto(await hall.signIn('organiser', 'desk'));
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/benches`);
  await page.getByRole('button', { name: 'Register a bench' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Number', { exact: true }).fill('4');
  await dialog.getByLabel('How the circumference is known').selectOption('Rolled: turns and a length');
  await dialog.getByLabel('Whole turns').fill('25');
  await dialog.getByLabel('Length of all turns in mm').fill('2357');
  await dialog.getByLabel('Off by at most, in mm').fill('1');
  // By JCGM 100:2008, 4.3.7: 1 mm / (25 * 1.73205) is 0.0231 mm.
  await expect(dialog.getByText('Circumference: 2,357 mm / 25 = 94.280 mm')).toBeVisible();
  await expect(dialog.getByText('Standard uncertainty: 1 mm / (25 × √3) = 0.023 mm')).toBeVisible();
  await clean(page);
  await dialog.getByRole('button', { name: 'Save' }).click();
  await expect(dialog).toBeHidden();
  expect(await bench()).toMatchObject({
    circumference_mm: 94.28,
    circumference_u_mm: 0.023,
    rolled: { turns: 25, length_mm: 2357, within_mm: 1 },
  });
  const row = page.getByRole('row', { name: /rolled: 25 turns, 2,357 ± 1 mm/ });
  await expect(row).toContainText('94.28 mm');

  // It opens as it was measured; then somebody takes a caliper. Something is missing at first.
  await page.getByRole('button', { name: 'Change: bench 4' }).click();
  await expect(dialog.getByLabel('Length of all turns in mm')).toHaveValue('2357');
  await dialog.getByLabel('How the circumference is known').selectOption('Measured across, with a caliper');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await expect(dialog.getByLabel('Diameter in mm')).toBeFocused();
  await dialog.getByLabel('Diameter in mm').fill('30');
  await dialog.getByLabel('Off by at most, in mm').fill('0.02');
  await expect(dialog.getByText('Circumference: π × 30 mm = 94.248 mm')).toBeVisible();
  await expect(dialog.getByText('Standard uncertainty: π × 0.02 mm / √3 = 0.036 mm')).toBeVisible();
  await dialog.getByRole('button', { name: 'Save' }).click();
  await expect(dialog).toBeHidden();
  const across = await bench();
  expect(across).toMatchObject({ circumference_mm: 94.248, circumference_u_mm: 0.036 });
  expect(across).toMatchObject({ caliper: { diameter_mm: 30, within_mm: 0.02 } });
  expect(across).not.toHaveProperty('rolled');
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
