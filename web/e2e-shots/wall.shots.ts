import { expect, test } from '@playwright/test';
import type { Hall } from '../e2e/bench-hall';
import { call, drive, fullHall, raceWhole, start } from '../e2e/wall-hall';
import { camera } from './shoot';

let hall: Hall;
test.afterEach(() => hall.close());

// On a wall, a small projector and a screen that stands upright.
for (const lanes of [5, 2])
  test(`a full hall of heats of ${lanes}`, async ({ page }) => {
    hall = await fullHall(lanes);
    const shoot = camera(page, 'wall', ['hall', 'projector', 'upright']);
    const scene = async (name: string, part: string) => {
      await page.goto(`${hall.address}/m/spring`);
      await expect(page.getByText('Live', { exact: true })).toBeVisible();
      await expect(page.getByRole('region', { name: part }).locator('.racer').first()).toBeVisible();
      await drive(hall, [1, 2], 1);
      await shoot(`${lanes}-${name}`);
    };
    await scene('before', 'Get ready');
    await call(hall, 1, 2);
    await scene('called', 'Come to your bench');
    await start(hall, [1, 2]);
    if (lanes === 2) await call(hall, 3, 4);
    await scene('racing', 'Racing now');
    if (lanes === 5) return;
    await raceWhole(hall, [3]);
    await call(hall, 5);
    await scene('results', 'Newest results');
  });

test('a full hall between its heats', async ({ page }) => {
  hall = await fullHall(5);
  const shoot = camera(page, 'wall', ['hall', 'projector', 'upright']);
  await raceWhole(hall, [1, 2]);
  for (const name of ['raced', 'raced-called', 'raced-racing']) {
    if (name === 'raced-called') await call(hall, 3, 4);
    if (name === 'raced-racing') await start(hall, [3, 4]);
    await page.goto(`${hall.address}/m/spring`);
    await expect(page.getByText('Live', { exact: true })).toBeVisible();
    await expect(page.getByRole('region', { name: 'Standings' }).locator('.racer').first()).toBeVisible();
    await drive(hall, [3, 4], 1);
    await shoot(name);
  }
});
