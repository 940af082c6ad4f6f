import { expect, test } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000);
  hall = await Hall.open();
  await hall.addBenches(1);
});
test.afterAll(() => hall.close());

test('one bench practises without any meet', async ({ page, context }) => {
  const { link } = await hall.phoneFor('b1');
  await page.goto(link);
  await expect(page.getByText('No car is called to this bench.')).toBeVisible();
  const box = new CounterBox(hall, 'b1');

  const car = page.getByLabel('Car number');
  await car.fill('0');
  await page.getByRole('button', { name: 'Go' }).click();
  await expect(page.getByRole('alert')).toHaveText('A car number is 1 to 9999, or empty.');
  await expect(car).toBeFocused();
  await expect(car).toHaveAccessibleDescription(/A car number is 1 to 9999, or empty\.$/);
  await car.fill('1');
  await expect(page.getByRole('alert')).toHaveCount(0);

  // 6,000 evenly would be the 100 stamps a second of a mains lamp.
  for (const [nth, rpm] of [6300, 6600].entries()) {
    await page.getByLabel('Car number').fill('12');
    await page.getByLabel('10', { exact: true }).check();
    await page.getByRole('button', { name: 'Go' }).click();
    await expect(page.getByRole('heading', { name: 'Practice: put the car on' })).toBeVisible();
    const order = await hall.ask<{ run: string; race_s: number; start_number: number }>('GET', '/benches/b1/order');
    expect(order).toMatchObject({ race_s: 10, start_number: 12 });
    // Both cards are as wide as the page, whatever stands in them.
    const [armed, form] = ['Practice: put the car on', 'Try a car'].map((name) => page.getByRole('region', { name }));
    expect((await armed!.boundingBox())!.width).toBe((await form!.boundingBox())!.width);

    const run = box.begin(order.run, 10, rpm);
    await run.send(2);
    await expect(page.getByText(nth === 0 ? '35.6 km/h' : '37.3 km/h')).toBeVisible();
    await run.send(8);
    await expect(page.getByText(nth === 0 ? /^96\.\d+\s± [\d.]+\sm$/ : /^101\.\d+\s± [\d.]+\sm$/)).toBeVisible();
  }
  const before = page.getByRole('table', { name: 'Runs before, at this bench' });
  await expect(before.getByRole('row')).toHaveCount(2);
  await expect(before).toContainText('35.6 km/h');
  await expect(page.getByText('a bench has no air', { exact: false })).toBeVisible();
  await clean(page);

  // A run without a number, ordered without a network, is armed once.
  await context.setOffline(true);
  await page.getByLabel('Car number').fill('');
  await page.getByRole('button', { name: 'Go' }).click();
  await expect(page.getByText('Not sent yet: the network is away.')).toBeVisible();
  await context.setOffline(false);
  await expect(page.getByRole('heading', { name: 'Practice: put the car on' })).toBeVisible();
  const order = await hall.ask<{ run: string; start_number?: number }>('GET', '/benches/b1/order');
  expect(order.run).toBe('practice-b1-3');
  expect(order.start_number).toBeUndefined();
});
