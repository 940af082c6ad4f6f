import { expect, test, type Page } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });
test.describe.configure({ mode: 'serial' });

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3);
});
test.afterAll(() => hall.close());

async function confirm(page: Page, number: number) {
  for (const digit of String(number)) await page.getByRole('button', { name: digit, exact: true }).click();
  await page.getByRole('button', { name: 'Ready' }).click();
}

test('a car is called, confirmed, raced, measured; a re-run is asked for and turned down', async ({ page }) => {
  await hall.planMeet('spring', ['b1', 'b2'], 4, 3);
  const { link } = await hall.phoneFor('b1', 'b2');
  await page.goto(link);
  await expect(page).toHaveURL(/\/bench\/b1$/); // the token is gone from the address
  await expect(page.getByText('Next heat')).toBeVisible();
  await clean(page);

  const heat = 'junior-1.1.1';
  const lanes = await hall.call('spring', heat);
  const car = lanes['b1']!.racer.start_number;
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await expect(page.getByText(`Start number ${car}`)).toBeAttached();
  await expect(page.getByText('Time left')).toBeVisible();
  await clean(page);

  await page.getByRole('button', { name: 'Ready' }).click();
  await expect(page.getByRole('alert')).toHaveText('Type the number that you read on the car.');
  const number = page.getByLabel('Which number is on the car?');
  await expect(number).toBeFocused();
  await expect(number).toHaveAttribute('aria-invalid', 'true');
  await page.getByRole('button', { name: '9', exact: true }).click();
  await expect(page.getByRole('alert')).toHaveCount(0);
  await page.getByRole('button', { name: 'Erase the last digit' }).click();
  await confirm(page, 99);
  await expect(page.getByRole('alert')).toContainText(
    `Number 99 is the wrong car. Fetch car ${car}, or ask an official.`,
  );
  expect(await hall.log('spring')).not.toContain('BenchReady');

  // By keyboard this time.
  await page.getByLabel('Which number is on the car?').focus();
  await page.keyboard.type(`${car}`);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Ready: wait for the starter' })).toBeVisible();
  await expect(page.getByText('let go on the signal')).toBeVisible();
  await expect(page.getByText('Fingers, hair, sleeves')).toBeVisible();
  await clean(page);

  // One phone runs both benches: the plate of the other says that it is called.
  await page.getByRole('link', { name: 'Bench 2 car called' }).click();
  await confirm(page, lanes['b2']!.racer.start_number);
  await expect(page.getByRole('heading', { name: 'Ready: wait for the starter' })).toBeVisible();
  await page.getByRole('link', { name: 'Bench 1 ready' }).click();

  await hall.start('spring', heat);
  await expect(page.getByRole('heading', { name: 'Racing', exact: true })).toBeVisible();
  const run = new CounterBox(hall, 'b1', 'spring').begin(lanes['b1']!.armed!, 3);
  await run.send(1);
  await expect(page.getByText('33.9 km/h')).toBeVisible(); // 100 turns of 94.25 mm a second
  await expect(page.getByText('Stop all')).toBeVisible();
  await clean(page);

  await run.send(2);
  await expect(page.getByRole('heading', { name: `Measured: car ${car}` })).toBeVisible();
  await expect(page.getByText('The others of this heat still race.')).toBeVisible();
  await new CounterBox(hall, 'b2', 'spring').run(lanes['b2']!.armed!, 3, 5000);
  await expect(page.getByText('1st in this heat so far')).toBeVisible();
  await clean(page);

  await page.getByRole('button', { name: 'Ask for a re-run' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: 'Ask an official' }).click();
  await expect(dialog.getByRole('alert')).toHaveText('Choose what happened.');
  await expect(dialog.getByRole('radio').first()).toBeFocused();
  await dialog.getByLabel('Power failure').check();
  await dialog.getByLabel('More about it').fill('The lamp over the bench went out.');
  await clean(page);
  await dialog.getByRole('button', { name: 'Ask an official' }).click();
  await expect(page.getByText('Asked. An official decides.')).toBeVisible(); // by the server, not just sent
  expect((await hall.log('spring')).filter((one) => one === 'RerunAsked')).toHaveLength(1);
  await expect(page.getByRole('button', { name: 'Ask for a re-run' })).toBeHidden();

  await hall.ask('POST', '/meets/spring/rulings', {
    kind: 'turn-down-rerun',
    heat,
    entry: lanes['b1']!.racer.entry,
    reason: { code: 'other' },
  });
  await expect(page.getByText('Not granted: the result stands.')).toBeVisible();
  await page.getByRole('button', { name: 'Understood' }).click();
  await expect(page.getByText('Not granted: the result stands.')).toBeHidden();
});

test('the network is cut in mid-heat: nothing is lost and nothing doubled', async ({ page, context }) => {
  const heat = 'junior-1.1.2';
  const { link } = await hall.phoneFor('b1');
  await page.goto(link);
  const lanes = await hall.call('spring', heat);
  const { racer, armed } = lanes['b1']!;
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();

  // The confirmation is given while the phone is cut off.
  await context.setOffline(true);
  await confirm(page, racer.start_number);
  await expect(page.getByText('Confirmed here, but not sent yet')).toBeVisible();
  await expect(page.getByText('1 order not sent, the oldest since')).toBeVisible();
  await expect(page.getByText('Cut off since')).toBeVisible();
  await clean(page);
  await page.evaluate(() => scrollTo(0, 100_000));
  expect(await page.evaluate(() => scrollY)).toBeGreaterThan(50);
  await expect(page.getByText('Cut off since')).toBeInViewport({ ratio: 1 });
  await page.evaluate(() => scrollTo(0, 0));
  expect((await hall.lanes('spring', heat))['b1']!.state).toBe('called');

  await context.setOffline(false);
  await expect(page.getByText('1 order not sent')).toBeHidden();
  await expect(page.getByText('Confirmed here, but not sent yet')).toBeHidden();
  await hall.ready('spring', heat, 'b2', lanes['b2']!.racer.start_number);
  await hall.start('spring', heat);
  await expect(page.getByRole('heading', { name: 'Racing', exact: true })).toBeVisible();

  // In mid-heat the Wi-Fi goes, and then the phone's page too; the request for a re-run is given in between.
  await context.setOffline(true);
  await page.getByRole('button', { name: 'Ask for a re-run' }).click();
  await page.getByLabel('Somebody or something got in the way').check();
  await page.getByRole('button', { name: 'Ask an official' }).click();
  await expect(page.getByText('Your request is not sent yet')).toBeVisible();
  await new CounterBox(hall, 'b1', 'spring').run(armed!, 3);

  // It comes back badly: the server carries the order out, and its answers are lost on the way.
  let lost = 0;
  await page.route('**/ask-rerun', async (route) => {
    await route.fetch();
    lost++;
    await route.abort();
  });
  await context.setOffline(false);
  await expect.poll(() => lost).toBeGreaterThan(1);
  await page.unroute('**/ask-rerun');
  await page.reload();
  await expect(page.getByRole('heading', { name: `Measured: car ${racer.start_number}` })).toBeVisible();
  await expect(page.getByText('Asked. An official decides.')).toBeVisible();
  await expect(page.getByText('not sent')).toBeHidden();
  const log = await hall.log('spring');
  expect(log.filter((one) => one === 'RerunAsked')).toHaveLength(2); // this one and that of the test before
  expect(log.filter((one) => one === 'RunRecorded')).toHaveLength(3);

  await hall.ask('POST', '/meets/spring/rulings', {
    kind: 'did-not-finish',
    heat,
    entry: lanes['b2']!.racer.entry,
    reason: { code: 'stalled' },
  });
  await hall.ask('POST', '/meets/spring/rulings', {
    kind: 'grant-rerun',
    heat,
    entry: racer.entry,
    counts: 'rerun',
    reason: { code: 'outside-interference' },
  });
  await expect(page.getByText('Granted: the car will be called again.')).toBeVisible();
});

test('an order that comes too late is refused with its sentence, and put away by hand', async ({ page, context }) => {
  await hall.planMeet('summer', ['b3'], 2, 2);
  const { link } = await hall.phoneFor('b3');
  await page.goto(link);
  const lanes = await hall.call('summer', 'junior-1.1.1');
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await context.setOffline(true);
  await confirm(page, lanes['b3']!.racer.start_number);
  await expect(page.getByText('1 order not sent')).toBeVisible();
  await hall.ask('POST', '/meets/summer/heats/junior-1.1.1/call-off', { reason: { code: 'alarm' } });
  await context.setOffline(false);
  await expect(page.getByRole('alert')).toContainText(`Ready of car ${lanes['b3']!.racer.start_number}`);
  await clean(page);
  await page.reload();
  await page.getByRole('alert').getByRole('button', { name: 'Understood' }).click();
  await expect(page.getByRole('alert')).toBeHidden();
  await page.reload();
  await expect(page.getByText('Next heat')).toBeVisible();
  await expect(page.getByRole('alert')).toBeHidden();
});

test('where no run comes, laps are counted by hand', async ({ page }) => {
  const { link } = await hall.phoneFor('b3');
  await page.goto(link);
  const lanes = await hall.call('summer', 'junior-1.1.1');
  const car = lanes['b3']!.racer.start_number;
  await hall.ready('summer', 'junior-1.1.1', 'b3', car);
  await hall.start('summer', 'junior-1.1.1');
  await page.getByRole('button', { name: 'Count by hand' }).click({ timeout: 10_000 });
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('radio', { name: 'Metres' }).check();
  await dialog.getByLabel('Metres', { exact: true }).last().fill('21');
  const give = dialog.getByLabel('Give or take, in metres');
  await give.fill('0');
  await dialog.getByRole('button', { name: 'Hand in the count' }).click();
  // At the field that it is about, and at no other.
  await expect(give).toHaveAccessibleDescription(/Say how far you may be wrong: a number above zero\.$/);
  await expect(give).toBeFocused();
  await expect(dialog.getByRole('alert')).toHaveCount(1);
  await dialog.getByRole('radio', { name: /^Laps of/ }).check();
  await expect(dialog.getByRole('alert')).toHaveCount(0);
  await dialog.getByLabel('Laps', { exact: true }).fill('7');
  await expect(page.getByText('That is 21.0 m ± 1.8 m.')).toBeVisible(); // 7 laps of 3 m; 2 · 3 m / √12, rounded up
  await clean(page);
  await page.getByRole('button', { name: 'Hand in the count' }).click();
  await expect(page.getByRole('heading', { name: `Counted: car ${car}` })).toBeVisible();
  await expect(page.getByText('Counted by hand.')).toBeVisible();
  await expect(page.getByText('21.0 ± 1.8 m')).toBeVisible();
});

test('a paused meet, a bench out of service and a token that is not valid any more each say what to do', async ({
  page,
}) => {
  const phone = await hall.phoneFor('b3');
  await page.goto(phone.link);
  const lanes = await hall.call('summer', 'junior-1.1.2');
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await hall.ask('POST', '/meets/summer/pause', { reason: { code: 'lunch' } });
  await expect(page.getByText('The meet is paused')).toBeVisible();
  await expect(page.getByText('Reason: Lunch.')).toBeVisible();
  await expect(page.getByText(`Confirm car ${lanes['b3']!.racer.start_number} when the meet goes on.`)).toBeVisible();
  await clean(page);
  await hall.ask('POST', '/meets/summer/resume');
  await expect(page.getByRole('button', { name: 'Ready' })).toBeVisible();

  await hall.ask('POST', '/meets/summer/benches/b3/service', { out: true, reason: { code: 'bench-fault' } });
  await expect(page.getByRole('heading', { name: 'Out of service' })).toBeVisible();
  await expect(page.getByText('Reason: Bench fault.')).toBeVisible();
  await clean(page);

  await page.goto(`${hall.address}/bench/b1`);
  await expect(page.getByRole('heading', { name: 'Not your bench' })).toBeVisible();
  await clean(page);

  await page.getByRole('link', { name: 'Bench 3' }).click();
  await expect(page.getByRole('heading', { name: 'Out of service' })).toBeVisible();
  await hall.ask('POST', `/tokens/${phone.id}/revoke`);
  await expect(page.getByRole('heading', { name: 'Who are you?' })).toBeVisible();
  // It is true of a phone that comes for the first time too.
  await expect(page.getByText('This phone is not signed in, or its link is not valid any more.')).toBeVisible();
  await clean(page);
  const again = await hall.phoneFor('b3');
  await page.getByLabel('Link or key').fill(again.link);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await expect(page.getByRole('heading', { name: 'Out of service' })).toBeVisible();
});

test('nothing runs off the edge of a small phone, upright or on its side', async ({ page }) => {
  const { link } = await hall.phoneFor('b1', 'b2', 'b3');
  for (const viewport of [
    { width: 320, height: 640 },
    { width: 844, height: 390 },
  ]) {
    await page.setViewportSize(viewport);
    await page.goto(link);
    await expect(page.getByRole('heading', { name: 'Try a car' })).toBeVisible();
    await expect
      .poll(() => page.evaluate(() => document.documentElement.scrollWidth))
      .toBeLessThanOrEqual(viewport.width);
    const small = await page
      .locator('main :is(button, a[href]), nav a')
      .evaluateAll(
        (all) =>
          all.map((one) => one.getBoundingClientRect()).filter((box) => box.height > 0 && box.height < 56).length,
      );
    expect(small).toBe(0);
  }

  // The whole pad is in sight on the smallest phone and on a phone on its side.
  await hall.planMeet('autumn', ['b2'], 1, 5);
  await hall.call('autumn', 'junior-1.1.1');
  for (const viewport of [
    { width: 320, height: 640 },
    { width: 390, height: 844 },
    { width: 844, height: 390 },
  ]) {
    await page.setViewportSize(viewport);
    await page.goto(`${hall.address}/bench/b2`);
    await expect(page.getByRole('button', { name: 'Ready' })).toBeInViewport({ ratio: 1 });
    await expect(page.getByLabel('Which number is on the car?')).toBeInViewport({ ratio: 1 });
    await page.getByRole('button', { name: '9', exact: true }).click();
    await page.getByRole('button', { name: 'Ready' }).click();
    await expect(page.getByText('Number 9 is the wrong car.').first()).toBeVisible();
    await page.evaluate(() => scrollTo(0, 0));
    await expect(page.getByRole('button', { name: 'Ready' })).toBeInViewport({
      ratio: viewport.width > viewport.height ? 0 : 1,
    });
  }
});
