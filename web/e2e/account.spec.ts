import { expect, test, type Browser, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { Keyboard } from './desk-keyboard';

// An organiser comes by a link, chooses a name and a password, and signs in by them from then on.
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open('--proxy', '127.0.0.1');
  await hall.ask('PUT', '/accounts', { name: 'harbour', password: words });
});
test.afterAll(() => hall.close());

const words = 'rollers stop before hands go in';
const narrow = (page: Page) =>
  expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);

/** from opens a browser at an address of the network, as a proxy says it: this machine itself never waits. */
async function from(browser: Browser, address: string): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    extraHTTPHeaders: { 'X-Forwarded-For': address },
  });
  return context.newPage();
}

/** byName signs in by name at the desk's own page. */
async function byName(page: Page, name: string, password: string): Promise<void> {
  await page.goto(`${hall.address}/desk`);
  await page.getByLabel('Name', { exact: true }).fill(name);
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Sign in by name' }).click();
}

test('an organiser chooses a name and a password by the keyboard, and signs in by them', async ({ browser }) => {
  test.setTimeout(120_000);
  const page = await from(browser, '192.0.2.1');
  const k = new Keyboard(page);
  await page.goto(await hall.signIn('organiser', 'timing table'));
  await expect(page.getByText('Your link was good for this browser alone')).toBeVisible();
  await clean(page);
  await k.follow('Choose a name and a password');
  await expect(page.getByRole('heading', { level: 1, name: 'How you sign in' })).toBeVisible();
  await clean(page);
  await k.type('Name', 'Table');
  await k.type('Password', 'too short');
  await k.press('Keep name and password');
  const password = page.getByLabel('Password', { exact: true });
  await expect(password).toBeFocused();
  await expect(password).toHaveAccessibleDescription(/15 to 200 characters/);
  await clean(page);
  await k.type('Password', words);
  await k.press('Keep name and password');
  await expect(page.getByText('You sign in as “table”.')).toBeVisible();
  await expect(page.getByText('Other browsers that were signed in with your key are signed out.')).toBeVisible();
  await clean(page);
  await page.setViewportSize({ width: 360, height: 740 });
  await narrow(page);
  await page.setViewportSize({ width: 1280, height: 800 });
  await k.press('Sign out');

  // A wrong password says what to do; a third one has to be waited for, and then the right one is let in.
  const go = page.getByRole('button', { name: 'Sign in by name' });
  await expect(go).toBeVisible();
  await clean(page);
  for (let n = 0; n < 3; n++) {
    await k.type('Name', 'table');
    await k.type('Password', 'lantern quay harbour mole pier');
    await page.keyboard.press('Enter');
    await expect(password).toHaveAccessibleDescription(
      /do not fit together: type both again, or ask another organiser/,
    );
    await expect(password).toBeFocused();
  }
  await k.type('Password', words);
  await page.keyboard.press('Enter');
  await expect(password).toHaveAccessibleDescription(/try again in 1 s/);
  await clean(page);
  await expect(go).toBeVisible(); // it counted down
  await expect(password).toHaveAccessibleDescription(/The wait is over/);
  await k.to(password);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('link', { name: 'Signed in as organiser' })).toBeVisible();
  await expect(page.getByText('Your link was good for this browser alone')).toHaveCount(0);
  await page.context().close();
});

test('an organiser sees where the key is in use, ends a browser there, and that one is told', async ({ browser }) => {
  test.setTimeout(120_000);
  const page = await from(browser, '192.0.2.2');
  await page.goto(await hall.signIn('organiser', 'door'));
  await page.getByRole('link', { name: 'Signed in as organiser' }).click();
  await page.getByLabel('Name', { exact: true }).fill('Harbour');
  await page.getByLabel('Password', { exact: true }).fill(words);
  await page.getByRole('button', { name: 'Keep name and password' }).click();
  const name = page.getByLabel('Name', { exact: true });
  await expect(name).toHaveAccessibleDescription(/Somebody else of the club signs in as “harbour”/);
  await expect(name).toBeFocused();
  await name.fill('door');
  await page.getByRole('button', { name: 'Keep name and password' }).click();
  await expect(page.getByText('You sign in as “door”.')).toBeVisible();

  const [second, third] = [await from(browser, '192.0.2.3'), await from(browser, '192.0.2.4')];
  for (const one of [second, third]) {
    await byName(one, 'door', words);
    await expect(one.getByRole('link', { name: 'Plan a meet' })).toBeVisible();
  }
  await second.getByRole('link', { name: 'Plan a meet' }).click();
  await second.getByLabel('Name', { exact: true }).fill('Harbour Hall spring meet');
  await second.getByLabel('Date', { exact: true }).fill('2027-04-17');
  await page.reload();
  const rows = page.getByRole('table', { name: 'Where you are signed in' }).getByRole('row');
  await expect(rows).toHaveCount(4); // the head, this browser and two more
  await expect(rows.filter({ hasText: 'this browser' })).toHaveCount(1);
  await clean(page);
  // The newest stands first.
  await rows
    .nth(2)
    .getByRole('button', { name: /^End: door/ })
    .click();
  await page.getByRole('dialog').getByRole('button', { name: 'End', exact: true }).click();
  await expect(rows).toHaveCount(3);

  // What was typed there stays, and the name brings it back.
  await second.getByRole('button', { name: 'Plan this meet' }).click();
  const again = second.getByRole('dialog', { name: 'Sign in again' });
  await expect(again).toContainText('You are no longer signed in');
  await clean(second);
  await again.getByLabel('Name', { exact: true }).fill('door');
  await again.getByLabel('Password', { exact: true }).fill(words);
  await again.getByRole('button', { name: 'Sign in by name' }).click();
  await expect(again).toBeHidden();
  await expect(second.getByLabel('Name', { exact: true })).toHaveValue('Harbour Hall spring meet');

  await page.reload();
  await page.getByRole('button', { name: 'End all others' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'End all others' }).click();
  await expect(rows).toHaveCount(2);
  await third.getByRole('link', { name: 'Keys' }).click();
  await expect(third.getByRole('dialog', { name: 'Sign in again' })).toContainText('this browser was signed out');

  await page.getByRole('button', { name: 'Give the password up' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Give the password up' }).click();
  await expect(page.getByText('Name and password are forgotten.')).toBeVisible();
  expect(await page.evaluate(() => document.activeElement !== document.body), 'the focus stays on the page').toBe(true);
  await byName(third, 'door', words);
  await expect(third.getByLabel('Password', { exact: true })).toHaveAccessibleDescription(/do not fit together/);
  for (const one of [page, second, third]) await one.context().close();
});
