import { expect, test, type Page } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

// What a volunteer's hands, ears and eyes meet at a phone of usual size.
test.use({ viewport: { width: 360, height: 740 }, hasTouch: true });

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3, 4, 5, 6, 7);
});
test.afterAll(() => hall.close());

const press = async (page: Page, number: number) => {
  for (const digit of String(number)) await page.getByRole('button', { name: digit, exact: true }).click();
};
const ready = (page: Page) => page.getByRole('button', { name: 'Ready', exact: true });

/** listenIn notes what a page would sound and shake, as [what, how many]. */
async function listenIn(page: Page): Promise<() => Promise<string[]>> {
  await page.addInitScript(() => {
    const noted: string[] = [];
    Object.assign(window, { noted });
    navigator.vibrate = (pattern) => !!noted.push(`shake ${[pattern].flat().length}`);
    const start = OscillatorNode.prototype.start;
    OscillatorNode.prototype.start = function (when) {
      noted.push(`tone ${Math.round(this.frequency.value)}`);
      start.call(this, when);
    };
  });
  return () => page.evaluate(() => (window as unknown as { noted: string[] }).noted.splice(0));
}
const called = ['shake 3', 'tone 660', 'tone 880', 'tone 660', 'tone 880'];

test('a phone sounds and shakes for each of its benches, where it is set to', async ({ page }) => {
  await hall.planMeet('spring', ['b1', 'b2'], 4, 3);
  const noted = await listenIn(page);
  await page.goto((await hall.phoneFor('b1', 'b2')).link);
  const own = page.getByRole('region', { name: 'This phone' });
  await expect(own.getByText('Press Test once')).toBeVisible();
  await clean(page);
  await own.getByRole('button', { name: 'Test' }).click();
  await expect(own.getByText('Is the silent switch on')).toBeVisible();
  expect(await noted()).toEqual(called);
  // Over plain http of a hall nothing keeps the screen on; loopback counts as safe, so here the page does.
  await expect(own.getByText('The screen stays on while this page is open.')).toBeVisible();

  const lanes = await hall.call('spring', 'junior-1.1.1');
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await expect.poll(noted).toEqual([...called, ...called]); // one call for each bench
  for (const bench of ['b1', 'b2']) await hall.ready('spring', 'junior-1.1.1', bench, lanes[bench]!.racer.start_number);
  await hall.start('spring', 'junior-1.1.1');
  await expect.poll(noted).toEqual(['shake 1', 'tone 990', 'shake 1', 'tone 990']);
  // Bench 1 is on show, and the run of bench 2 is told too: before time is up, so only that.
  await new CounterBox(hall, 'b2', 'spring').run(lanes['b2']!.armed!, 3);
  await expect.poll(noted).toEqual(['shake 3', 'tone 880', 'tone 587']);
  await expect.poll(noted).toEqual(['shake 5', 'tone 520', 'tone 520', 'tone 520']); // time is up at bench 1
  await new CounterBox(hall, 'b1', 'spring').run(lanes['b1']!.armed!, 3);
  await expect.poll(noted).toEqual(['shake 3', 'tone 880', 'tone 587']);

  await own.getByLabel('Sound and vibration').uncheck();
  await page.reload();
  await expect(own.getByLabel('Sound and vibration')).not.toBeChecked();
  await hall.call('spring', 'junior-1.1.2');
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await page.waitForTimeout(500);
  expect(await noted()).toEqual([]);
});

test('on its side a phone has the whole pad in view below the cut-off bar and beside a notice', async ({
  page,
  context,
}) => {
  await hall.planMeet('side', ['b7'], 2, 30);
  await page.setViewportSize({ width: 740, height: 360 });
  // What a status says at the moment that it comes into the page: screen readers leave that out.
  await page.addInitScript(() => {
    const said: string[] = [];
    Object.assign(window, { said });
    new MutationObserver((changes) => {
      for (const node of changes.flatMap((change) => [...change.addedNodes]))
        if (node instanceof HTMLElement)
          for (const status of [node, ...node.querySelectorAll<HTMLElement>('*')])
            if (status.matches('[role=status].notice')) said.push(status.innerText);
    }).observe(document, { childList: true, subtree: true });
  });
  await page.routeWebSocket(/\/live/, (socket) => {
    const server = socket.connectToServer();
    server.onMessage((frame) => void setTimeout(() => socket.send(frame), 700));
  });
  await page.goto((await hall.phoneFor('b7')).link);
  await page.getByRole('button', { name: 'An official, please' }).click();
  await expect(page.getByText('An official is asked for since')).toBeVisible();
  // Also while the feed lags behind the answer it is there, and said once.
  await page.waitForTimeout(2_500);
  expect(await page.evaluate(() => (window as unknown as { said: string[] }).said)).toEqual(['']);
  await hall.call('side', 'junior-1.1.1');
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await clean(page);
  await context.setOffline(true);
  await expect(page.getByText(/^Cut off since/)).toBeVisible({ timeout: 20_000 });
  await page.evaluate(() => scrollTo(0, 0));
  await page.screenshot({ path: 'screenshots/bench-on-its-side.png' });
  for (const key of [ready(page), ...['1', '0'].map((name) => page.getByRole('button', { name, exact: true }))]) {
    const box = (await key.boundingBox())!;
    expect(box.y + box.height).toBeLessThanOrEqual(360);
    expect(box.height).toBeGreaterThanOrEqual(44);
  }
  await context.setOffline(false);
});

test('a Ready is taken back before the start, and not after it', async ({ page, context }) => {
  await hall.planMeet('summer', ['b3'], 2, 30);
  await page.goto((await hall.phoneFor('b3')).link);
  const lanes = await hall.call('summer', 'junior-1.1.1');
  const car = lanes['b3']!.racer.start_number;
  await press(page, car);
  await ready(page).click();
  await expect(page.getByRole('heading', { name: 'Ready: wait for the starter' })).toBeVisible();
  await clean(page);
  await page.getByRole('button', { name: 'Not so: take it back' }).click();
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await expect.poll(async () => (await hall.lanes('summer', 'junior-1.1.1'))['b3']!.state).toBe('called');

  await press(page, car);
  await ready(page).click();
  await expect.poll(async () => (await hall.lanes('summer', 'junior-1.1.1'))['b3']!.state).toBe('ready');
  await context.setOffline(true);
  await page.getByRole('button', { name: 'Not so: take it back' }).click();
  await expect(page.getByText('The starter still sees “Ready”')).toBeVisible();
  await hall.start('summer', 'junior-1.1.1');
  await context.setOffline(false);
  await expect(page.getByRole('alert')).toContainText('has started already');
  await expect(page.getByRole('heading', { name: 'Racing', exact: true })).toBeVisible();
});

test('an official is asked for in any scene, and it stands on the desk until one has been there', async ({
  page,
  browser,
}) => {
  await hall.planMeet('autumn', ['b4'], 1, 30);
  await page.goto((await hall.phoneFor('b4')).link);
  const key = page.getByRole('button', { name: 'An official, please' });
  await expect(page.getByRole('heading', { name: 'Next heat, benches not called yet' })).toBeVisible();
  await expect(key).toBeVisible();
  const car = (await hall.call('autumn', 'junior-1.1.1'))['b4']!.racer.start_number;
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await key.click();
  await expect(page.getByText('An official is asked for since')).toBeVisible();
  await expect(key).toBeDisabled();
  await clean(page);

  const desk = await browser.newPage();
  await desk.goto((await hall.signIn()).replace('/desk#', '/desk/m/autumn#'));
  const card = desk.getByRole('article').filter({ hasText: 'A bench asks for an official' });
  await expect(card).toContainText(/since \d\d:\d\d/);
  await clean(desk);
  await press(page, car);
  await ready(page).click();
  await expect(page.getByRole('heading', { name: 'Ready: wait for the starter' })).toBeVisible();
  await expect(page.getByText('An official is asked for since')).toBeVisible(); // until it is answered
  await card.getByRole('button', { name: 'I have been there: Bench 4' }).click();
  await expect(card).toBeHidden();
  await expect(page.getByText('An official is asked for since')).toBeHidden();
  await expect(key).toBeEnabled();
  await desk.close();
});

test('Ready is in sight under a notice and the bar of being cut off, and no key moves', async ({ page, context }) => {
  await hall.planMeet('winter', ['b5'], 2, 30);
  await page.goto((await hall.phoneFor('b5')).link);
  const first = (await hall.call('winter', 'junior-1.1.1'))['b5']!.racer.start_number;
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  // What stands above: an order that was refused, because its call was called off meanwhile.
  await context.setOffline(true);
  await press(page, first);
  await ready(page).click();
  await hall.ask('POST', '/meets/winter/heats/junior-1.1.1/call-off', { reason: { code: 'alarm' } });
  await context.setOffline(false);
  await expect(page.getByRole('alert')).toContainText('was not accepted');
  expect(await page.getByRole('alert').innerText()).not.toContain('junior-'); // nobody knows what that is
  const car = (await hall.call('winter', 'junior-1.1.2'))['b5']!.racer.start_number;
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await context.setOffline(true);
  await expect(page.getByText('Cut off since')).toBeVisible();
  const number = page.locator('.car .number');
  await expect(ready(page)).toBeInViewport({ ratio: 1 });
  await expect(number).toBeInViewport({ ratio: 1 });
  const nine = page.getByRole('button', { name: '9', exact: true });
  const before = [await nine.boundingBox(), await ready(page).boundingBox()];
  await nine.click();
  await nine.click();
  await ready(page).click();
  const wrong = page.getByText('Number 99 is the wrong car.').first();
  await expect(wrong).toBeVisible();
  expect([await nine.boundingBox(), await ready(page).boundingBox()]).toEqual(before);
  await clean(page);

  // The right number is being typed: what was wrong is said no longer.
  await page.getByRole('button', { name: String(car)[0]!, exact: true }).click();
  await expect(wrong).toBeHidden();
  await context.setOffline(false);
});

test('a Ready that comes late and is so already is taken without a word', async ({ page, context }) => {
  await hall.planMeet('late', ['b6'], 1, 30);
  await page.goto((await hall.phoneFor('b6')).link);
  const car = (await hall.call('late', 'junior-1.1.1'))['b6']!.racer.start_number;
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await context.setOffline(true);
  await press(page, car);
  await ready(page).click();
  await expect(page.getByText('1 order not sent')).toBeVisible();
  await hall.ready('late', 'junior-1.1.1', 'b6', car);
  await hall.start('late', 'junior-1.1.1');
  await context.setOffline(false);
  await expect(page.getByRole('heading', { name: 'Racing', exact: true })).toBeVisible();
  await expect(page.getByText('1 order not sent')).toBeHidden();
  await expect(page.getByRole('alert')).toBeHidden();
  await expect(page.getByText('Ready of car')).toBeHidden();
  // "No speed" is a sentence, not a figure: on this phone it takes two lines at most.
  const none = page.getByText('No speed from the counter box yet.');
  const lines = await none.evaluate(
    (one) => one.getBoundingClientRect().height / parseFloat(getComputedStyle(one).lineHeight),
  );
  expect(lines).toBeLessThan(2.5);
});
