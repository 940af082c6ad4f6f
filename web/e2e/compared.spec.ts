import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { makeCheck, makeRun, planCompared, raceRound, slots } from './compared-hall';
import { clean } from './clean';

let hall: Hall;
test.beforeEach(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
});
test.afterEach(() => hall.close());

test('the desk leads through a reference check, and a bench makes its run with one tap', async ({ page, browser }) => {
  await planCompared(hall, 'spring', 'report');
  const { link } = await hall.phoneFor('b1');
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/spring`);
  await page.getByRole('link', { name: 'Comparison' }).click();
  await expect(page.getByRole('heading', { name: 'Benches compared' })).toBeVisible();
  await expect(page.getByText('There is nothing to compare yet')).toBeVisible();
  await clean(page);

  // By keyboard: one more car, then the check.
  await page.getByLabel('Number on the car').fill('93');
  await page.keyboard.press('Enter');
  await expect(page.getByLabel('car 93')).toBeChecked();
  await page.getByLabel('car 93').press('Space');
  await page.getByLabel('Seconds a run').fill('5');
  await page.getByRole('button', { name: 'Begin the check' }).press('Enter');
  await page.getByRole('dialog').getByRole('button', { name: 'Begin the check' }).press('Enter');
  await expect(page.getByText('0 of 8 runs are done.')).toBeVisible();
  await expect(page.getByRole('row', { name: /run now/ })).toContainText('car 91');

  const phone = await (await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true })).newPage();
  await phone.goto(link);
  const first = (await slots(hall, 'spring')).find((slot) => slot.bench === 'b1')!;
  await clean(phone);
  await phone.getByRole('button', { name: `Run car ${first.car_number} for 5 seconds` }).tap();
  await expect(phone.getByRole('heading', { name: 'Reference run: put the car on' })).toBeVisible();
  await makeRun(hall, 'b1', 1);
  await expect(page.getByText('1 of 8 runs are done.')).toBeVisible();
  await expect(phone.getByRole('heading', { name: 'Reference check' })).toBeVisible();
  await phone.close();

  for (const [n, slot] of (await slots(hall, 'spring')).entries()) {
    await hall.ask('POST', `/benches/${slot.bench}/practice`, {
      car_number: slot.car_number,
      race_s: 5,
      reference_meet: 'spring',
    });
    await makeRun(hall, slot.bench, n + 2);
  }
  await expect(page.getByText('8 of 8 runs are done.')).toBeVisible();
  await expect(page.getByText(/Bench 3 reads 2\.\d % high/).first()).toBeVisible();
  await expect(page.getByRole('img', { name: /How far each bench is off.*Bench 3: 1\.\d+/ })).toBeVisible();
  await expect(page.getByText('The rules of this meet say: report it.')).toBeVisible();
  await expect(page.getByRole('button', { name: 'Adopt the factors' })).toHaveCount(0);
  const show = page.getByRole('button', { name: 'Show as a table: How far each bench is off' });
  await show.press('Enter');
  await expect(
    page.getByRole('region', { name: 'How far each bench is off, as a table' }).getByRole('row'),
  ).toHaveCount(5);
  await clean(page);
});

test('factors are adopted between two heats, and both values are shown', async ({ page }) => {
  await planCompared(hall, 'spring', 'correct');
  await makeCheck(hall, 'spring');
  await hall.call('spring', 'junior-1.1.1');
  await page.goto(await hall.signIn());
  await page.goto(`${hall.address}/desk/m/spring/benches`);
  await expect(
    page.getByText(
      'Juniors 6 to 10, round 1, heat 1 is called: adopt or withdraw factors when no heat is at the benches.',
    ),
  ).toBeVisible();
  await hall.ask('POST', '/meets/spring/heats/junior-1.1.1/call-off', { reason: { code: 'other' } });
  await raceRound(hall, 'spring');
  await page.getByRole('button', { name: 'Adopt the factors' }).press('Enter');
  const dialog = page.getByRole('dialog');
  await expect(dialog.getByText('Official results stay.', { exact: false })).toBeVisible();
  await expect(dialog.getByLabel('Reason')).toHaveValue('benches-differ');
  await clean(page);
  await dialog.getByRole('button', { name: 'Adopt the factors' }).press('Enter');
  await expect(page.getByRole('table', { name: 'Factors in force' })).toBeVisible();
  await expect(page.getByRole('button', { name: 'Withdraw the factors' })).toBeVisible();
  await clean(page);

  // The child's sheet shows both values.
  await page.goto(`${hall.address}/m/spring/standings/junior`);
  await expect(page.getByText('† corrected for its bench:', { exact: false })).toBeVisible();
  await clean(page);
  await page.goto(`${hall.address}/m/spring/cars/e7?for=older`);
  await expect(page.getByText(/read \d+\.\d+ m/)).toBeVisible();
  await clean(page);

  await page.goto(`${hall.address}/desk/m/spring/benches`);
  await page.getByRole('button', { name: 'Withdraw the factors' }).click();
  await dialog.getByRole('button', { name: 'Withdraw the factors' }).click();
  await expect(page.getByRole('table', { name: 'Factors in force' })).toHaveCount(0);
});

test('a bench that has moved puts its races in doubt, and one that disagrees is taken out', async ({ page }) => {
  await planCompared(hall, 'spring', 'take-out');
  await makeCheck(hall, 'spring');
  await raceRound(hall, 'spring');
  await makeCheck(hall, 'spring', { b1: 1, b2: 0.999, b3: 1.025, b4: 0.93 });
  await page.goto(await hall.signIn());
  await page.goto(`${hall.address}/desk/m/spring/benches`);
  await expect(page.getByText(/Bench 4 has moved: it reads \d+(\.\d+)? % less than before/)).toBeVisible();
  const doubt = page.getByRole('table', { name: 'Runs in doubt' });
  await expect(doubt.getByRole('row')).toHaveCount(2);
  await clean(page);
  await doubt.getByRole('button', { name: /^Rule/ }).click();
  await expect(page.getByRole('dialog').getByLabel('Reason')).toHaveValue('bench-fault');
  await page.keyboard.press('Escape');
  const out = page.getByRole('button', { name: /Take out: bench \d/ }).first();
  await out.click();
  await page.getByRole('dialog').getByRole('button', { name: 'Take out' }).click();
  await expect(page.getByText('out of service', { exact: false }).first()).toBeVisible();
});
