import { expect, test } from '@playwright/test';
import { CounterBox, Hall } from '../e2e/bench-hall';
import { planCompared } from '../e2e/compared-hall';
import { camera } from './shoot';

let hall: Hall;
test.afterEach(() => hall.close());

test('advice on a re-run', async ({ page }) => {
  hall = await Hall.open();
  const shoot = camera(page, 'advice', ['desktop', 'phone']);
  await planCompared(hall, 'spring', 'report');
  const lanes = await hall.call('spring', 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(lanes))
    await hall.ready('spring', 'junior-1.1.1', bench, lane.racer.start_number);
  await hall.start('spring', 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(lanes))
    await new CounterBox(hall, bench, 'spring').run(lane.armed!, 4, bench === 'b2' ? 3170 : 6340);
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/spring`);
  await expect(page.getByText('A re-run is due')).toBeVisible();
  await shoot('now');
  await page.getByRole('button', { name: /^Grant a re-run/ }).click();
  await expect(page.getByLabel('Which run counts')).toHaveValue('better');
  await shoot('dialog');
});
