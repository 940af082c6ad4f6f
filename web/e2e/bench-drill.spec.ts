import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await hall.planMeet('spring', ['b1', 'b2'], 4, 60, 600);
});
test.afterAll(() => hall.close());

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

test('a volunteer tries all of the bench page with a pretend car, and nothing of it leaves the phone', async ({
  page,
}) => {
  test.setTimeout(180_000);
  const { link } = await hall.phoneFor('b1');
  await page.goto(link);
  await expect(page.getByText('Next heat, benches not called yet')).toBeVisible({ timeout: 20_000 });

  const orders: string[] = [];
  page.on('request', (request) => {
    if (request.method() !== 'GET' && request.method() !== 'HEAD') orders.push(`${request.method()} ${request.url()}`);
  });
  const before = await hall.log('spring');
  const drill = page.getByRole('region', { name: 'Drill' });
  const button = (name: string) => drill.getByRole('button', { name, exact: true });
  const key = async (digits: string) => {
    for (const digit of digits) await button(digit).click();
    await button('Ready').click();
  };

  await page.getByRole('button', { name: 'Try this page with a pretend car' }).click();
  await expect(drill.getByText('Nothing is sent, nothing counts')).toBeVisible({ timeout: 20_000 });
  await expect(drill.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await clean(page);

  await test.step('a wrong number is refused, the right one makes ready, the starter starts', async () => {
    await key('7');
    await expect(drill.getByText('Number 7 is the wrong car.').first()).toBeVisible();
    await key('42');
    await expect(drill.getByRole('heading', { name: 'Ready: wait for the starter' })).toBeVisible();
    await button('Not so: take it back').click();
    await expect(drill.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
    await key('42');
    await expect(drill.getByRole('heading', { name: 'Racing' })).toBeVisible({ timeout: 20_000 });
    await expect(drill.getByText('km/h').first()).toBeVisible();
    await clean(page);
  });

  await test.step('a run is measured: 2.6 m/s for 15 s, less what the start takes', async () => {
    await expect(drill.getByRole('heading', { name: 'Measured: car 42' })).toBeVisible({ timeout: 40_000 });
    // 2.6 m/s x (15 s - 0.8 s) = 36.92 m: twelve laps of 3 m, and 9.4 km/h.
    await expect(drill.getByText('36.9')).toBeVisible();
    await expect(drill.getByText('9.4')).toBeVisible();
    await clean(page);
  });

  await test.step('a re-run is asked for and granted', async () => {
    await button('Ask for a re-run').click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Power failure').check();
    await dialog.getByRole('button', { name: 'Ask an official' }).click();
    await expect(drill.getByText('Asked. An official decides.')).toBeVisible();
    await expect(drill.getByText('Granted: the car will be called again.')).toBeVisible({ timeout: 20_000 });
    await button('Race it again').click();
    await expect(drill.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  });

  await test.step('the network is gone in the pretend hall: a count by hand', async () => {
    await key('42');
    await expect(drill.getByRole('heading', { name: 'Racing' })).toBeVisible({ timeout: 20_000 });
    await button('Pretend that the network is away').click();
    await button('Count by hand').click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Laps', { exact: true }).fill('11');
    await dialog.getByRole('button', { name: 'Hand in the count' }).click();
    await expect(drill.getByRole('heading', { name: 'Counted: car 42' })).toBeVisible();
    await expect(drill.getByText('Counted by hand.')).toBeVisible();
  });

  expect(orders).toEqual([]);
  expect(await hall.log('spring')).toEqual(before);
  // Nothing waits on the phone either, to be sent after a reload.
  await page.reload();
  await expect(page.getByText('Next heat, benches not called yet')).toBeVisible({ timeout: 20_000 });
  await expect(page.getByText('not sent')).toHaveCount(0);
  await expect(page.getByText(/Re-run of car 42/)).toHaveCount(0);
  expect(orders).toEqual([]);

  // A call is for real: the drill makes room by itself.
  await page.getByRole('button', { name: 'Try this page with a pretend car' }).click();
  await expect(drill).toBeVisible({ timeout: 20_000 });
  await hall.call('spring', 'junior-1.1.1');
  await expect(drill).toHaveCount(0, { timeout: 20_000 });
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
});
