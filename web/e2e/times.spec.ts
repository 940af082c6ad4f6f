import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000);
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await hall.planMeet('spring', ['b1', 'b2'], 6, 60);
});
test.afterAll(() => hall.close());

test('the desk says when the day is likely over, changes the order of heats and tells the times', async ({ page }) => {
  test.setTimeout(120_000);
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto((await hall.signIn()).replace('/desk#', '/desk/m/spring/times#'));
  await expect(page.getByText(/^The last race is likely over at \d/)).toBeVisible();
  await expect(page.getByText('The plan does not say when the hall closes.')).toBeVisible();
  await expect(page.getByText(/^One day in ten like this one ends before \d.*, one in ten after \d/)).toBeVisible();
  const heats = page.getByRole('group', { name: 'The next heats' }).getByRole('listitem');
  await expect(heats).toHaveCount(3);
  await expect(heats.first()).toContainText('heat 1');

  await page.getByRole('button', { name: /^Later: .*heat 1$/ }).click();
  await expect(heats.first()).toContainText('heat 2');
  await expect(page.getByRole('status').filter({ hasText: /heat 1 is 2nd now/ })).toBeAttached();
  await page.getByRole('button', { name: /^Sooner: .*heat 1$/ }).click();
  await expect(heats.first()).toContainText('heat 1');

  await page.getByRole('button', { name: /^Hold 10 minutes: .*heat 3$/ }).click();
  await expect(heats.filter({ hasText: 'heat 3' })).toContainText('held until');
  await page.getByRole('button', { name: /^Let go: .*heat 3$/ }).click();
  await expect(heats.filter({ hasText: 'held until' })).toHaveCount(0);

  await page.getByRole('button', { name: 'Tell these times' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Tell these times' }).click();
  await expect(page.getByText(/^Told at .*: over at/)).toBeVisible();
  await expect(heats.first()).toContainText('not before');
  await expect(page.getByRole('table', { name: 'Rounds of the day' }).getByRole('row')).not.toHaveCount(1);
  await clean(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await clean(page);

  // Nobody is called before what was told unless somebody sees that all are here.
  await page.goto(`${hall.address}/desk/m/spring`);
  await page.getByRole('button', { name: /^Call: .*heat 3$/ }).click();
  await expect(page.getByRole('alert').filter({ hasText: 'was told to come later' })).toBeVisible();
  await page.getByRole('button', { name: /^All are here: call .*heat 3$/ }).click();
  await expect(page.getByRole('button', { name: /^Call: .*heat 3$/ })).toHaveCount(0);
});

test('the wall and a car’s page say when the next heats come', async ({ page }) => {
  await page.goto(`${hall.address}/m/spring`);
  const next = page.getByRole('heading', { name: 'Get ready' }).locator('xpath=ancestor::section[1]');
  // The third of them was called at the desk.
  await expect(next.getByText(/^(about \d|soon)/)).toHaveCount(2);
  const { heats } = await hall.ask<{ heats: { id: string; phase: string; lanes: { racer: { entry: string } }[] }[] }>(
    'GET',
    '/meets/spring/heats',
  );
  const carOf = (phase: string) => heats.findLast((heat) => heat.phase === phase)!.lanes[0]!.racer.entry;
  await page.goto(`${hall.address}/m/spring/cars/${carOf('drawn')}`);
  await expect(page.getByRole('heading', { name: 'What comes next' })).toBeVisible();
  await expect(page.getByText(/(about \d|soon).*not before \d/)).toBeVisible();
  await clean(page);
  await page.goto(`${hall.address}/m/spring/cars/${carOf('called')}`);
  await expect(page.getByText(/Now: go to bench [12]\./)).toBeVisible();
});
