import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';

// A club on its first evening: no bench, no meet, and somebody with a car in the hand.
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000);
  hall = await Hall.open();
});
test.afterAll(() => hall.close());

/** tabTo walks with the Tab key until a link or button of that name has the focus. */
async function tabTo(page: Page, name: string): Promise<void> {
  for (let steps = 0; steps < 40; steps++) {
    await page.keyboard.press('Tab');
    const here = await page.evaluate(() => document.activeElement?.textContent?.trim());
    if (here === name) return;
  }
  throw new Error(`no Tab leads to "${name}"`);
}

test('practice is found from the head of the desk, by keyboard', async ({ page }) => {
  await page.goto(await hall.signIn());
  await expect(page.getByRole('heading', { name: 'Practice needs no meet' })).toBeVisible();
  await clean(page);
  await tabTo(page, 'Practice');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'Practice' })).toBeVisible();
  await clean(page);
  await tabTo(page, 'Run a bench from this device');
  await page.keyboard.press('Enter');
  await expect(page.getByText('No bench is entered for this device yet.')).toBeVisible();
  await clean(page);
  await tabTo(page, 'Enter a bench at the desk');
  await page.keyboard.press('Enter');
  await expect(page).toHaveURL(/\/desk\/benches$/);
});

test('practice is found from a desk without a meet', async ({ page }) => {
  await page.goto(await hall.signIn());
  const section = page
    .locator('section')
    .filter({ has: page.getByRole('heading', { name: 'Practice needs no meet' }) });
  await expect(section.getByRole('link', { name: 'Bench page' })).toHaveAttribute('href', '/bench');
  await section.getByRole('link', { name: 'Practice board' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Practice' })).toBeVisible();
});

test('practice is found from the start page without a race day, on a phone', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto(hall.address);
  await expect(page.getByText('No race day is planned yet.', { exact: false })).toBeVisible();
  await clean(page);
  await tabTo(page, 'Practice board');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'Practice' })).toBeVisible();
});
