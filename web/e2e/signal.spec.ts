import { expect, test, type Page } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

// An adult sets a bench up, with a phone in the hand.
test.use({ viewport: { width: 360, height: 740 }, hasTouch: true });
test.describe.configure({ mode: 'serial' });

let hall: Hall;
let box: CounterBox;
test.beforeAll(async () => {
  test.setTimeout(120_000);
  hall = await Hall.open();
  await hall.addBenches(1);
  box = new CounterBox(hall, 'b1');
});
test.afterAll(() => hall.close());

const shot = (page: Page, name: string) =>
  process.env['KEEP_SHOTS'] ? page.screenshot({ path: `${process.env['KEEP_SHOTS']}/signal-${name}.png` }) : undefined;

const verdict = (page: Page) => page.getByRole('region', { name: 'Check the signal' });

/** armed gives the name of the look that the bench is asked for. */
async function armed(page: Page): Promise<string> {
  await expect(page.getByRole('heading', { name: 'Keep the car at full speed' })).toBeVisible();
  const order = await hall.ask<{ run: string; race_s: number; start_number?: number }>('GET', '/benches/b1/order');
  expect(order).toMatchObject({ race_s: 12 });
  expect(order.start_number).toBeUndefined();
  return order.run;
}

/** whole holds that all of a verdict is seen without scrolling. */
async function whole(page: Page): Promise<void> {
  expect(await page.evaluate(() => scrollY)).toBe(0);
  for (const one of [verdict(page), verdict(page).getByRole('button', { name: 'Look again' })]) {
    const box = (await one.boundingBox())!;
    expect(box.y).toBeGreaterThanOrEqual(0);
    expect(box.y + box.height).toBeLessThanOrEqual(740);
  }
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
}

test('a good signal, one with marks unseen, a silent one, and a box that says nothing', async ({ page }) => {
  test.setTimeout(180_000);
  await page.goto((await hall.phoneFor('b1')).link);
  await page.getByRole('button', { name: 'Check the signal' }).click();
  await expect(page.getByText('The rollers spin fast and a car can be thrown off.')).toBeVisible();
  await shot(page, '1-form');
  await clean(page);
  await page.getByRole('button', { name: 'Back' }).click();
  await page.getByRole('button', { name: 'Check the signal' }).click();

  // Good: 6,300 turns a minute, one mark. (6,000 evenly would be the 100 stamps a second of a mains lamp.)
  await page.getByRole('button', { name: 'Look for 12 seconds' }).click();
  const good = box.begin(await armed(page), 12, 6300);
  await shot(page, '2-armed');
  await clean(page);
  await good.send(4);
  await expect(page.getByRole('heading', { name: 'Looking' })).toBeVisible();
  await expect(page.getByText('8 seconds left')).toBeVisible();
  await shot(page, '3-looking');
  await good.send(8);
  await expect(verdict(page).getByRole('heading', { name: 'Good', exact: true })).toBeVisible();
  await expect(verdict(page)).toContainText('It counts right up to 25,000 turns a minute.');
  await expect(verdict(page)).toContainText(/Seen at \d\d:\d\d: 1 mark a turn, 6,300 turns a minute\./);
  await expect(
    verdict(page).getByRole('img', { name: 'Plot: time from mark to mark, over 12 seconds. One thin line.' }),
  ).toBeVisible();
  await whole(page);
  await shot(page, '4-good');
  await clean(page);

  // It is the server's, so it is there after a reload too.
  await page.reload();
  await expect(verdict(page).getByRole('heading', { name: 'Good', exact: true })).toBeVisible();

  // Every twentieth mark goes by unseen; by keyboard alone.
  await page.getByRole('button', { name: 'Look again' }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Look for 12 seconds' }).focus();
  await page.keyboard.press('Enter');
  await box.run(await armed(page), 12, 6300, (turn) => turn % 20 !== 7);
  await expect(verdict(page).getByRole('heading', { name: 'Not good' })).toBeVisible();
  await expect(verdict(page).getByRole('status')).toContainText('Marks go by unseen.');
  await expect(verdict(page).getByRole('status')).toContainText(
    'Do this first: Clean the mark, make it wider, and move the sensor nearer.',
  );
  await expect(verdict(page).getByRole('img', { name: /Dots at twice the height\.$/ })).toBeVisible();
  await whole(page);
  await shot(page, '5-missed');
  await clean(page);

  // The box is there, and its sensor sees nothing.
  await page.getByRole('button', { name: 'Look again' }).click();
  await page.getByRole('button', { name: 'Look for 12 seconds' }).click();
  await box.run(await armed(page), 12, 6300, () => false);
  await expect(verdict(page).getByRole('status')).toContainText('No mark was seen.');
  await expect(verdict(page).getByRole('status')).toContainText('does the lamp of the counter box blink');
  await expect(verdict(page).getByRole('img')).toHaveCount(0);
  await whole(page);
  await shot(page, '6-silent');
  await clean(page);

  // No box at all: it is said when its answer is overdue, and the bench is free again.
  await page.getByRole('button', { name: 'Look again' }).click();
  await page.getByRole('button', { name: 'Look for 12 seconds' }).click();
  await armed(page);
  await expect(page.getByRole('alert')).toContainText('No word from the counter box. Do this first: Look at its plug', {
    timeout: 30_000,
  });
  await shot(page, '7-no-word');
  await clean(page);
  await page.getByRole('button', { name: 'Stop the look' }).click();
  await expect(verdict(page).getByRole('status')).toContainText('No mark was seen.');
  expect((await hall.ask<{ kind: string }>('GET', '/benches/b1/order')).kind).toBe('free');

  // Read and put away; a practice run shows its figures as ever.
  await page.getByRole('button', { name: 'Close' }).click();
  await expect(verdict(page)).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Check the signal' })).toBeVisible();
});

test('the check in German', async ({ page }) => {
  await page.goto((await hall.phoneFor('b1')).link.replace('#', '?lang=de#'));
  await page.getByRole('button', { name: 'Signal prüfen' }).click();
  await page.getByRole('button', { name: /lang hinsehen$/ }).click();
  await expect(page.getByRole('heading', { name: 'Auto in vollem Tempo lassen' })).toBeVisible();
  const { run } = await hall.ask<{ run: string }>('GET', '/benches/b1/order');
  await box.run(run, 12, 6300, (turn) => turn % 20 !== 7);
  const found = page.getByRole('region', { name: 'Signal prüfen' });
  await expect(found.getByRole('heading', { name: 'Nicht gut' })).toBeVisible();
  await expect(found).toContainText('Tu zuerst das: Mach die Marke sauber und breiter, und den Sensor näher heran.');
  const box2 = (await found.boundingBox())!;
  expect(box2.y + box2.height).toBeLessThanOrEqual(740);
  await shot(page, '8-german');
});
