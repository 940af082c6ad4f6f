import { expect, test, type Page } from '@playwright/test';
import { lifeIn, orderIn, shot } from './afternoon-hall';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

// A phone is cut off while its car is changed, and the box goes on: each run is of what the car was made of then.
test.use({ viewport: { width: 360, height: 740 }, hasTouch: true });

let hall: Hall;
let box: CounterBox;
test.beforeAll(async () => {
  test.setTimeout(240_000);
  hall = await Hall.open();
  await hall.addBenches(1);
  box = new CounterBox(hall, 'b1');
});
test.afterAll(() => hall.close());

const quick = { intervals: [50], timeout: 10_000 };
const press = (page: Page, name: string | RegExp) =>
  page.getByRole('button', { name, exact: typeof name === 'string' }).click();

/** drive makes the run that the bench waits for, and waits for the next. */
async function drive(rpm: number): Promise<void> {
  await expect.poll(async () => (await orderIn(hall)).run, quick).toBeDefined();
  const { run, race_s } = await orderIn(hall);
  await box.run(run!, race_s!, rpm);
  await expect.poll(async () => (await orderIn(hall)).run, quick).not.toBe(run);
}

const states = async () => (await lifeIn(hall, 7)).runs.map((one) => one.state);

async function changeGear(page: Page, way: 'more' | 'less'): Promise<void> {
  await press(page, 'Changed something');
  await press(page, /^Gear/);
  await press(page, `Teeth on the motor: ${way}`);
  await press(page, 'Save');
}

test('changes that a phone notes while it is cut off count from when they were made', async ({ page, context }) => {
  test.setTimeout(180_000);
  // The phone's own clock is an hour fast.
  await page.addInitScript(() => {
    const RealDate = Date;
    const fast = () => RealDate.now() + 3_600_000;
    globalThis.Date = new Proxy(RealDate, {
      construct: (of, given) => (given.length ? Reflect.construct(of, given) : new of(fast())) as object,
      get: (of, name) => (name === 'now' ? fast : (Reflect.get(of, name) as unknown)),
    });
  });
  await page.goto((await hall.signIn()).replace('/desk#', '/bench/b1#'));
  await press(page, 'Open a practice afternoon here');
  await press(page, '7');
  await press(page, 'Queue up');
  await expect(page.getByText('Put car 7 on. Hold it. Let go.')).toBeVisible();
  await press(page, 'Changed something');
  await press(page, /^Gear/);
  await press(page, 'Save');
  await expect.poll(async () => (await hall.ask<{ state: number }>('GET', '/practice/cars/7')).state, quick).toBe(1);
  await drive(6000);
  await drive(6010);
  await expect(page.getByRole('region', { name: 'Car 7, last run' })).toBeVisible();

  // There and back again: the same gear twice is two changes, and neither is lost.
  await context.setOffline(true);
  await changeGear(page, 'more');
  await drive(6300);
  await drive(6310);
  await expect(page.getByText(/^Cut off since/)).toBeVisible();
  await changeGear(page, 'less');
  await drive(6005);
  expect(await states()).toEqual([1, 1, 1, 1, 1]);
  await shot(page, 'late-1-cut-off');
  await context.setOffline(false);
  await expect.poll(states, { timeout: 30_000 }).toEqual([1, 1, 2, 2, 1]);
  await drive(6008);
  expect(await states()).toEqual([1, 1, 2, 2, 1, 1]);

  // The page of the car says so, and compares by it.
  await page.goto(`${hall.address}/practice/cars/7`);
  const late = page.getByText(/^Build 2 was noted at .+, and came here at .+\. 2 runs in between count for it\.$/);
  await expect(late).toBeVisible({ timeout: 30_000 });
  await expect(page.getByText(/^Build 1 was noted at .+\. 1 run in between counts for it\.$/)).toBeVisible();
  const rows = page.getByRole('table', { name: 'Every run, the newest first' }).getByRole('row');
  for (const [nth, build] of ['1', '1, noted later', '2, noted later', '2, noted later', '1', '1'].entries())
    await expect(
      rows
        .nth(nth + 1)
        .getByRole('cell')
        .last(),
    ).toHaveText(`Build ${build}`);
  await late.scrollIntoViewIfNeeded();
  await shot(page, 'late-2-page');
  await clean(page);
});
