import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';

test.use({ viewport: { width: 1440, height: 900 } });

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3);
});
test.afterAll(() => hall.close());

const open = async (page: Page, meet: string, part = '') =>
  page.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}${part}#`));
const heat = 'junior-1.1.1';

test('after each Ready the keyboard is at the next one and then at Start, and what is open stays open', async ({
  page,
}) => {
  const complaints: string[] = [];
  page.on('pageerror', (thrown) => complaints.push(String(thrown)));
  page.on('console', (one) => one.type() === 'error' && complaints.push(one.text()));
  await hall.planMeet('spring', ['b1', 'b2', 'b3'], 3, 30);
  const lanes = await hall.call('spring', heat);
  await open(page, 'spring');
  const ready = (n: number) => page.getByRole('button', { name: `Ready: bench ${n}` });
  const dialog = page.getByRole('dialog');
  const number = dialog.getByLabel('Number on the car');
  await expect(
    ready(1)
      .locator('xpath=ancestor::table')
      .getByRole('button', { name: /^Ready: bench/ }),
  ).toHaveCount(3);

  // The first bench in the list, by keyboard alone from here on.
  const first = page.getByRole('button', { name: /^Ready: bench/ }).first();
  const benches: number[] = [];
  await first.focus();
  for (let i = 0; i < 3; i++) {
    const at = Number(/\d+/.exec((await page.locator(':focus').getAttribute('aria-label'))!)![0]);
    benches.push(at);
    await page.keyboard.press('Enter');
    await expect(number).toBeFocused();
    if (i === 0) {
      // A field says itself what is wrong with it, and has the focus.
      await page.keyboard.press('Enter');
      await expect(number).toHaveAttribute('aria-invalid', 'true');
      await expect(number).toHaveAccessibleDescription('Fill this in.');
      await expect(number).toBeFocused();
      await clean(page);
      await page.keyboard.type('99');
      await expect(number).not.toHaveAttribute('aria-invalid');
      await page.keyboard.press('Enter');
      // So does the server, of the field that it is about.
      await expect(number).toHaveAccessibleDescription(/expects start number/);
      await expect(number).toBeFocused();
      await page.keyboard.press('Control+A');
    }
    await page.keyboard.type(String(lanes[`b${at}`]!.racer.start_number));
    await page.keyboard.press('Enter');
    await expect(dialog).toBeHidden();
    // The dialog gives the focus back first, to the key that it was opened by.
    await expect(page.locator(':focus')).toHaveAccessibleName(
      i < 2 ? new RegExp(`^Ready: bench (?!${at}$)`) : /^Start: /,
    );
  }
  expect(new Set(benches).size).toBe(3);

  // Somebody else confirms and starts while a dialog is open: it stays, and says so.
  await hall.ask('POST', `/meets/spring/heats/${heat}/not-ready`, { bench: 'b2' });
  await ready(2).click();
  await number.fill('1');
  await hall.ready('spring', heat, 'b2', lanes['b2']!.racer.start_number);
  await expect(dialog.getByText('Meanwhile this has changed in the hall')).toBeVisible();
  await hall.start('spring', heat);
  await expect(page.getByText(/left$/).first()).toBeVisible();
  await expect(dialog.getByText('Meanwhile this has changed in the hall')).toBeVisible();
  await expect(number).toHaveValue('1');
  await clean(page);
  await dialog.getByRole('button', { name: 'Back' }).click();
  await expect(dialog).toBeHidden();
  expect(complaints.filter((one) => !one.includes('409'))).toEqual([]);
});

test('what is new to decide is said, and counted in the title of the tab', async ({ page }) => {
  await hall.planMeet('news', ['b1'], 1, 30);
  await open(page, 'news', '/plan');
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  await expect(page).not.toHaveTitle(/^\(/);
  await hall.ask('POST', '/meets/news/benches/b1/official', { wanted: true });
  await expect(
    page.getByRole('status').filter({ hasText: 'To decide: A bench asks for an official, Bench 1.' }),
  ).toBeAttached();
  await expect(page).toHaveTitle(/^\(1\) /);
  await hall.ask('POST', '/meets/news/benches/b1/official', { wanted: false });
  await expect(page).not.toHaveTitle(/^\(/);
});

test('keys are made for what is chosen, all at once, and go on where they broke off', async ({ page }) => {
  await page.goto((await hall.signIn()).replace('/desk#', '/desk/keys#'));
  await page.getByLabel('For', { exact: true }).selectOption('Counter box');
  await expect(page.getByRole('button', { name: 'Make a key for every bench' })).toBeHidden();
  let asked = 0;
  await page.route('**/api/v1/tokens', async (route) => {
    if (route.request().method() !== 'POST' || ++asked !== 2) return route.continue();
    await route.fulfill({
      status: 409,
      contentType: 'application/problem+json',
      headers: { 'Idempotency-Key': route.request().headers()['idempotency-key'] ?? '' },
      body: JSON.stringify({ type: 'about:blank', title: '', status: 409, code: 'busy', detail: 'Not now.' }),
    });
  });
  const all = page.getByRole('button', { name: 'Make a key for every counter box' });
  await all.click();
  await expect(page.getByRole('alert').filter({ hasText: 'Not now.' })).toBeVisible();
  await all.click();
  await expect(page.getByRole('heading', { name: /^Counter box, bench/ })).toHaveCount(3);
  const { tokens } = await hall.ask<{ tokens: { role: string; benches: string[] }[] }>('GET', '/tokens');
  expect(
    tokens
      .filter((one) => one.role === 'box')
      .flatMap((one) => one.benches)
      .sort(),
  ).toEqual(['b1', 'b2', 'b3']);
  await page.getByLabel('For', { exact: true }).selectOption('Official');
  await expect(page.getByRole('button', { name: /^Make a key for every/ })).toBeHidden();
});

test('a key is for the next meet and ends with it, and each browser that is signed in can be signed out', async ({
  page,
  browser,
}) => {
  await hall.planMeet('keys', ['b1', 'b2'], 2, 30);
  await page.goto((await hall.signIn()).replace('/desk#', '/desk/keys#'));
  const help = (text: string) => page.getByText(`At the end of that day; empty: ${text}.`);
  const role = page.getByLabel('For', { exact: true });
  const meet = page.getByLabel('Good for', { exact: true });
  await expect(meet).not.toHaveValue('');
  await expect(help('at noon of the day after the meet')).toBeVisible();
  await meet.selectOption('every meet');
  await expect(help('after 36 hours')).toBeVisible();
  await role.selectOption('Organiser');
  await expect(help('after 30 days')).toBeVisible();
  await role.selectOption('Counter box');
  await expect(help('after a year')).toBeVisible();

  await role.selectOption('Inspector');
  await meet.selectOption({ index: 1 });
  const chosen = await meet.inputValue();
  await page.getByLabel('What it is for', { exact: true }).fill('battery table');
  await page.getByRole('button', { name: 'Make the key' }).click();
  const link = page.getByRole('link', { name: /#token=/ });
  await expect(link).toBeVisible();
  type Out = { label: string; meet?: string; expires: string };
  const made = (await hall.ask<{ tokens: Out[] }>('GET', '/tokens')).tokens.find(
    (one) => one.label === 'battery table',
  )!;
  const { meets } = await hall.ask<{ meets: { id: string; date: string }[] }>('GET', '/meets');
  expect(made.meet).toBe(chosen);
  const noon = new Date(`${meets.find((one) => one.id === chosen)!.date}T12:00:00`);
  noon.setDate(noon.getDate() + 1);
  expect(new Date(made.expires)).toEqual(noon);

  const other = await browser.newContext();
  const table = await other.newPage();
  await table.goto((await link.getAttribute('href'))!);
  await expect(table.getByText('Signed in as inspector')).toBeVisible();
  await page.reload();
  const open = page.getByRole('table', { name: 'Signed in now' });
  await expect(open.getByRole('row').filter({ hasText: 'this browser' })).toHaveCount(1);
  const theirs = open.getByRole('row').filter({ hasText: 'battery table' });
  await expect(theirs).toContainText('Inspector');
  await clean(page);
  await theirs.getByRole('button', { name: /^End: battery table, signed in / }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'End', exact: true }).click();
  await expect(theirs).toHaveCount(0);
  expect((await other.request.get(`${hall.address}/api/v1/people`)).status()).toBe(401);
  await other.close();
});
