import { expect, test } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

const meet = 'spring';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await hall.planMeet(meet, ['b1', 'b2'], 4, 2);
  const lanes = await hall.call(meet, 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(lanes))
    await hall.ready(meet, 'junior-1.1.1', bench, lane.racer.start_number);
  await hall.start(meet, 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(lanes)) await new CounterBox(hall, bench, meet).run(lane.armed!, 2);
  await new CounterBox(hall, 'b1', meet).run('nobody-asked', 2);
  await hall.call(meet, 'junior-1.1.2');
});
test.afterAll(() => hall.close());

const pages = [
  '',
  '/new',
  '/benches',
  '/keys',
  '/people',
  '/no-such-page',
  `/m/${meet}`,
  `/m/${meet}/entries`,
  `/m/${meet}/programme`,
  `/m/${meet}/inspection`,
  `/m/${meet}/inspection/7`,
  `/m/${meet}/inspection/99`,
  `/m/${meet}/batteries`,
  `/m/${meet}/rulings`,
  `/m/${meet}/benches`,
  `/m/${meet}/seeds`,
  `/m/${meet}/plan`,
  '/m/no-such-meet',
];

for (const [width, height] of [
  [1280, 800],
  [390, 844],
] as const) {
  test(`every page of the desk at ${width} by ${height}: one title, nothing for axe, nothing wider than the screen`, async ({
    page,
  }) => {
    test.setTimeout(90_000);
    await page.setViewportSize({ width, height });
    await page.goto(await hall.signIn('organiser', 'laptop'));
    await expect(page.getByText('Signed in as organiser')).toBeVisible();
    for (const path of pages) {
      await page.goto(`${hall.address}/desk${path}`);
      await expect(page.getByText('Asking the server …')).toHaveCount(0);
      await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1);
      await clean(page);
      expect(await page.evaluate(() => document.documentElement.scrollWidth), path).toBeLessThanOrEqual(width);
    }
  });
}

test('signed out, the desk shows nothing but the sign-in', async ({ page }) => {
  await page.goto(await hall.signIn('organiser', 'laptop'));
  await page.getByRole('button', { name: 'Sign out' }).click();
  await expect(page.getByRole('heading', { name: 'Sign in' })).toBeVisible();
  await page.goto(`${hall.address}/desk/people`);
  await expect(page.getByRole('heading', { name: 'Sign in' })).toBeVisible();
  await page.getByLabel('Key, or the whole link').fill('not-a-key');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('alert')).toBeVisible();
  await clean(page);
});
