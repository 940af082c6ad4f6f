import { expect, test, type Locator, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1);
});
test.afterAll(() => hall.close());

const key = (role: string, label: string) =>
  hall.ask<{ links: string[]; token: { id: string } }>('POST', '/tokens', { role, label });

/** saysAtField tries keys that are good for nothing: each is said of at the field, which has the focus. */
async function saysAtField(page: Page, form: Page | Locator, field: Locator, missing: string) {
  const go = form.getByRole('button', { name: 'Sign in', exact: true });
  const wrong = async (says: string | RegExp) => {
    await expect(field).toHaveAttribute('aria-invalid', 'true');
    await expect(field).toHaveAccessibleDescription(says);
    await expect(field).toBeFocused();
    await expect(form.getByRole('alert').filter({ hasText: /./ })).toHaveCount(1); // and is said once
    await clean(page);
  };
  await field.fill('');
  await go.click();
  await wrong(new RegExp(missing));
  for (const key of ['   ', 'nonsense', 'nonsense']) {
    await field.fill(key);
    await expect(field).not.toHaveAttribute('aria-invalid'); // while it is put right
    await field.press('Enter');
    await wrong(key.trim() === '' ? new RegExp(missing) : /not valid/);
  }
  await field.press('a');
  await expect(field).not.toHaveAttribute('aria-invalid');
}

test('the desk says that its sign-in is lost, and keeps what was typed', async ({ page }) => {
  test.setTimeout(120_000);
  const mine = await key('organiser', 'laptop');
  await page.goto(mine.links[0]!);
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.getByRole('link', { name: 'Plan a meet' }).click();
  await page.getByLabel('Name', { exact: true }).fill('Harbour Hall lost meet');
  await page.getByLabel('Date', { exact: true }).fill('2027-04-17');
  await hall.ask('POST', `/tokens/${mine.token.id}/revoke`);
  await page.getByRole('button', { name: 'Plan this meet' }).click();
  const dialog = page.getByRole('dialog', { name: 'Sign in again' });
  await expect(dialog).toBeVisible();
  await clean(page);
  await dialog.getByRole('button', { name: 'Back' }).click();
  await expect(page.getByText('You are no longer signed in')).toBeVisible();
  await clean(page);
  await page.getByRole('button', { name: 'Sign in again' }).click();
  await saysAtField(page, dialog, dialog.getByLabel('Key, or the whole link'), 'Fill this in');
  await dialog.getByLabel('Key, or the whole link').fill((await key('organiser', 'laptop again')).links[0]!);
  await dialog.getByRole('button', { name: 'Sign in', exact: true }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByLabel('Name', { exact: true })).toHaveValue('Harbour Hall lost meet');
  await page.getByRole('button', { name: 'Plan this meet' }).click();
  await expect(page).toHaveURL(/\/desk\/m\/harbour-hall-lost-meet-2027\/plan$/);
});

test('a bench’s link on the organiser’s laptop asks before it replaces the sign-in', async ({ page }) => {
  await page.goto((await key('organiser', 'laptop')).links[0]!);
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  const { link } = await hall.phoneFor('b1');
  await page.goto(link);
  await expect(page.getByText('This browser is signed in as: Organiser.')).toBeVisible();
  await clean(page);
  await page.getByRole('button', { name: 'Stay organiser' }).click();
  await expect(page.getByRole('heading', { name: 'Try a car' })).toBeVisible(); // an organiser may stand at any bench
  await page.goto(`${hall.address}/desk`);
  await expect(page.getByText('Signed in as organiser')).toBeVisible();

  await page.goto(link);
  await page.getByRole('button', { name: 'Sign in with the link' }).click();
  await expect(page.getByText('This browser is signed in as')).toHaveCount(0);
  await page.goto(`${hall.address}/desk`);
  await expect(page.getByText('You are signed in as: Bench')).toBeVisible();
});

test('an unsent order is taken back', async ({ page, context }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  const { link } = await hall.phoneFor('b1');
  await page.goto(link);
  await expect(page.getByRole('heading', { name: 'Try a car' })).toBeVisible();
  await context.setOffline(true);
  await page.getByLabel('Car number').fill('12');
  await page.getByRole('button', { name: 'Go' }).click();
  await expect(page.getByText('1 order not sent')).toBeVisible();
  await page.getByRole('button', { name: 'Which?' }).click();
  await clean(page);
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  await page.getByRole('button', { name: /^Take back: Practice of car 12/ }).click();
  await context.setOffline(false);
  await expect(page.getByText('1 order not sent')).toHaveCount(0);
  await expect(page.getByRole('heading', { name: 'Try a car' })).toBeVisible();
  expect(await hall.ask('GET', '/benches/b1/order')).toMatchObject({ kind: 'free' });
  await expect(page.getByRole('alert')).toHaveCount(0);
});

test('a link that is left at once has signed in all the same, and leaves no key behind', async ({ page }) => {
  const { links } = await key('organiser', 'laptop in a hurry');
  // The answers are slow, so that the page is left before any of them.
  await page.route('**/api/v1/session', async (route) => {
    await new Promise((done) => setTimeout(done, 1_000));
    await route.continue().catch(() => {}); // the page that asked is gone
  });
  await page.goto(links[0]!, { waitUntil: 'commit' });
  await page.waitForURL(/\/desk$/); // the key is out of the address
  await page.goto(`${hall.address}/desk/people`);
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  expect(await page.evaluate(() => Object.values({ ...sessionStorage, ...localStorage }).join())).not.toContain(
    links[0]!.split('token=')[1]!,
  );
});

test('a phone that is not signed in says what is wrong with a key at its field', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto(`${hall.address}/bench/b1`);
  await expect(page.getByRole('heading', { level: 1, name: 'Who are you?' })).toBeVisible();
  const field = page.getByLabel('Link or key');
  await saysAtField(page, page, field, 'Paste a link or type a key first');
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  await field.fill((await hall.phoneFor('b1')).link);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await expect(page.getByRole('heading', { name: 'Try a car' })).toBeVisible();
});

test('keys that a clock gave that was ahead are said at the desk, and set right by a press', async ({ page }) => {
  await page.goto((await key('organiser', 'laptop of today')).links[0]!);
  await page.getByRole('link', { name: 'Keys' }).click();
  await expect(page.getByRole('table', { name: 'Keys' })).toBeVisible();
  await expect(page.getByText('made by a clock that was ahead')).toHaveCount(0);
  // As the server would say it of a key that it gave while its clock was a year ahead.
  let ahead = true;
  await page.route('**/api/v1/tokens', async (route) => {
    if (route.request().method() !== 'GET') return route.fallback();
    const answer = await route.fetch();
    const body = (await answer.json()) as { tokens: { created: string; expires: string }[] };
    if (ahead) body.tokens[0]!.created = new Date(Date.now() + 365 * 86_400_000).toISOString();
    await route.fulfill({ response: answer, json: body });
  });
  const asked = page.waitForRequest('**/api/v1/tokens/set-right');
  await page.reload();
  await expect(page.getByText('One key was made by a clock that was ahead')).toBeVisible();
  await clean(page);
  ahead = false;
  await page.getByRole('button', { name: 'Have each last as it was meant to, from now' }).click();
  expect((await (await asked).response())!.status()).toBe(200);
  await expect(page.getByText('made by a clock that was ahead')).toHaveCount(0);
});
