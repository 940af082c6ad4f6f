import { expect, test } from '@playwright/test';
import { Hall } from '../e2e/bench-hall';
import { planSeeds } from '../e2e/seeds-hall';
import { camera } from './shoot';

let hall: Hall;
test.afterEach(() => hall.close());

test('seed orders, on a laptop and a phone', async ({ page }) => {
  hall = await Hall.open();
  const shoot = camera(page, 'desk', ['desktop', 'phone']);
  const at = (path: string) => page.goto(`${hall.address}/desk/m/autumn${path}`);
  const button = (name: string | RegExp) => page.getByRole('button', { name });
  await planSeeds(hall, 'autumn');
  await page.goto(hall.signIn);
  await expect(page.getByText('Signed in as organiser')).toBeVisible();

  await at('/entries');
  await expect(page.getByText('Quayside').first()).toBeVisible();
  await shoot('entries-clubs');
  await button('Change: 1 Lantern').click();
  await shoot('entry-club-dialog');
  await page.keyboard.press('Escape');
  await at('/plan');
  await button(/Change Seniors/).click();
  await shoot('division-seeds-dialog');
  await page.keyboard.press('Escape');
  await at('/seeds/seniors');
  await expect(page.getByText('Lantern against')).toBeVisible();
  await shoot('seeds');
  await button(/^Move 5 Zigzag/).press('Home');
  await button('Give this order').click();
  await expect(page.getByText('The order is given.')).toBeVisible();
  await expect(page.getByText('Zigzag against')).toBeVisible();
  await shoot('seeds-given');
  await hall.ask('POST', '/meets/autumn/divisions/seniors/draw');
  await at('/seeds/seniors');
  await expect(button('Draw again in another order')).toBeVisible();
  await shoot('seeds-drawn');
  await button('Draw again in another order').click();
  await shoot('seeds-again');
  await at('/programme/seniors');
  await expect(page.getByText('Quarter-finals are drawn.')).toBeVisible();
  await shoot('programme-notes');
});
