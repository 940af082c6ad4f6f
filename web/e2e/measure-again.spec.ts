import { expect, test } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(180_000); // the binary may have to be built
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await hall.planMeet('spring', ['b1', 'b2'], 2, 2);
  const lanes = await hall.call('spring', 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(lanes))
    await hall.ready('spring', 'junior-1.1.1', bench, lane.racer.start_number);
  await hall.start('spring', 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(lanes)) await new CounterBox(hall, bench, 'spring').run(lane.armed!, 2);
});
test.afterAll(() => hall.close());

test('a roller that was entered wrongly: see what would change, then rule', async ({ page }) => {
  await page.goto(await hall.signIn());
  await page.goto(`${hall.address}/desk/m/spring/plan`);
  await page.getByRole('button', { name: 'Measure again: bench 2' }).press('Enter');
  const dialog = page.getByRole('dialog', { name: 'Measure again: bench 2' });
  await expect(dialog).toContainText('One run of this bench was looked at: none would change.');
  await clean(page);
  await dialog.getByRole('button', { name: 'Cancel' }).press('Enter');

  await hall.ask('PUT', '/benches/b2', { number: 2, circumference_mm: 188.5 });
  await page.getByRole('button', { name: 'Copy settings again: bench 2' }).press('Enter');
  await page.getByRole('button', { name: 'Measure again: bench 2' }).press('Enter');
  await expect(dialog).toContainText('The one run of this bench would change.');
  const [was, would] = await dialog.getByRole('row').nth(1).getByRole('cell').allTextContents();
  expect(parseFloat(would!)).toBeCloseTo(2 * parseFloat(was!), 1);
  await clean(page);
  await dialog.getByLabel('In your own words').fill('The roller measures 188.5 mm round.');
  await dialog.getByRole('button', { name: 'Measure them again' }).press('Enter');
  await expect(dialog).toBeHidden();

  await page.goto(`${hall.address}/desk/m/spring/rulings`);
  const ruling = page.getByRole('row').filter({ hasText: 'Run measured again' });
  await expect(ruling).toContainText('The roller measures 188.5 mm round.');
  expect((await hall.log('spring')).slice(-2)).toEqual(['RunMeasuredAgain', 'ResultsPosted']);
});
