import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';

// A name that is not this machine's own gives the page what it has in a hall: plain http,
// and with it no service worker, no randomUUID, no persistent storage.
test.use({
  viewport: { width: 390, height: 844 },
  launchOptions: {
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--host-resolver-rules=MAP hall.test 127.0.0.1',
    ],
  },
});

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1);
});
test.afterAll(() => hall.close());

test('on plain http an order outlives the page that gave it', async ({ page, context }) => {
  const { link } = await hall.phoneFor('b1');
  await page.goto(link.replace('127.0.0.1', 'hall.test'));
  await expect(page.getByText('No car is called to this bench.')).toBeVisible();
  expect(await page.evaluate(() => [isSecureContext, 'serviceWorker' in navigator, 'randomUUID' in crypto])).toEqual([
    false,
    false,
    false,
  ]);

  await context.setOffline(true);
  await page.getByLabel('Car number').fill('12');
  await page.getByRole('button', { name: 'Go' }).click();
  await expect(page.getByText('1 order not sent, the oldest since')).toBeVisible();
  await expect(page.getByText('Kept on this phone; sent by itself.')).toBeVisible();
  await page.close(); // the phone dies
  await context.setOffline(false);
  expect(await hall.ask('GET', '/benches/b1/order')).toMatchObject({ kind: 'free' });

  const again = await context.newPage();
  await again.goto(`${hall.address.replace('127.0.0.1', 'hall.test')}/bench/b1`);
  await expect(again.getByRole('heading', { name: 'Practice: put the car on' })).toBeVisible();
  await expect(again.getByText('Practice of car 12.')).toBeVisible();
  expect(await hall.ask('GET', '/benches/b1/order')).toMatchObject({ kind: 'practice', run: 'practice-b1-1' });
});
