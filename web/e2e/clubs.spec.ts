import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';

// Several clubs on one server, each under its own path: the pages, their links and what a browser keeps are one club's.
let hall: Hall;
let pier: string;
const pierHall = () => `${hall.address}/c/pier`;

/** atPier calls the API as the organiser of the club that was invited. */
async function atPier(method: string, path: string, body: unknown, token: string): Promise<Response> {
  return fetch(`${pierHall()}/api/v1${path}`, {
    method,
    headers: {
      Authorization: `Bearer ${token}`,
      'Content-Type': 'application/json',
      'Idempotency-Key': crypto.randomUUID(),
    },
    body: JSON.stringify(body),
  });
}

const plan = (name: string) => ({ name, date: '2027-04-17', place: name });

test.beforeAll(async () => {
  hall = await Hall.open();
  await hall.ask('POST', '/meets', { id: 'spring', plan: plan('Harbour Hall spring meet') });
  const invited = await hall.ask<{ links: string[] }>('POST', '/clubs', { short: 'pier', name: 'Pier Hall' });
  const link = invited.links.find((one) => one.startsWith(hall.address))!;
  const token = link.split('#token=')[1]!;
  expect(
    (await atPier('POST', '/meets', { id: 'spring', plan: plan('Pier Hall spring meet') }, token)).status,
  ).toBeLessThan(300);
  expect((await atPier('PUT', '/benches/b1', { number: 1, circumference_mm: 94.25 }, token)).status).toBeLessThan(300);
  const made = await atPier('POST', '/tokens', { role: 'organiser', label: 'desk' }, token);
  pier = ((await made.json()) as { links: string[] }).links.find((one) => one.startsWith(hall.address))!;
});
test.afterAll(() => hall.close());

/** follow opens a link and says where that has to lead. */
async function follow(page: Page, name: string | RegExp, at: RegExp): Promise<void> {
  await page.getByRole('link', { name }).first().click();
  await expect(page).toHaveURL(at);
}

/** kept are the names of what the browser keeps for the pages of this host. */
const kept = (page: Page): Promise<string[]> =>
  page.evaluate(async () => [
    ...Object.keys(localStorage),
    ...Object.keys(sessionStorage),
    ...(await indexedDB.databases()).map((one) => one.name ?? ''),
  ]);

test('the root of a shared server says where to go, and lists nothing', async ({ page }) => {
  await page.goto(hall.address);
  await expect(page.getByRole('heading', { name: 'Which club?' })).toBeVisible();
  await expect(page.getByText('spring meet')).toHaveCount(0);
  await expect(page.getByRole('link', { name: 'Practice board' })).toHaveCount(0);
  await clean(page);
});

test('a club has its pages under its path, and its links stay there', async ({ page }) => {
  await page.goto(`${pierHall()}?list`);
  await follow(page, /Pier Hall spring meet/, /\/c\/pier\/m\/spring$/);
  await expect(page.getByRole('heading', { name: /Pier Hall spring meet/ })).toBeVisible();
  await follow(page, 'Practice board', /\/c\/pier\/practice$/);
  await follow(page, 'Race days', /\/c\/pier\/\?list$/);
  await expect(page.getByText('Harbour')).toHaveCount(0);
  await page.goBack();
  await expect(page).toHaveURL(/\/c\/pier\/practice$/);
});

test('one browser is signed in to both clubs, and signing out of one leaves the other', async ({ page, context }) => {
  await page.goto(await hall.signIn());
  await expect(page.getByRole('link', { name: 'Harbour Hall spring meet' })).toBeVisible();
  const before = await kept(page);
  await page.goto(pier);
  await expect(page.getByRole('link', { name: 'Pier Hall spring meet' })).toBeVisible();
  await expect(page.getByText('Harbour')).toHaveCount(0);
  await follow(page, 'Pier Hall spring meet', /\/c\/pier\/desk\/m\/spring/);
  await page.goto(`${pierHall()}/bench/b1`);
  await expect(page).toHaveURL(/\/c\/pier\/bench\/b1$/);
  // The tab has been at the other club before, and what it keeps of that stays there.
  await expect.poll(() => kept(page)).toContain('benchmeet-bench/c/pier');
  const own = (await kept(page)).filter((name) => !before.includes(name));
  for (const name of own.filter((one) => !/language|look|sound|edition/.test(one))) expect(name).toContain('/c/pier');
  const paths = (await context.cookies()).map((cookie) => `${cookie.name} ${cookie.path}`).sort();
  expect(paths.filter((one) => !one.includes('language'))).toEqual(['benchmeet /', 'benchmeet-club /c/pier/']);
  expect(
    await page.evaluate(
      async () =>
        (
          await fetch('/c/pier/api/v1/session', {
            method: 'DELETE',
            headers: { 'Idempotency-Key': crypto.randomUUID() },
          })
        ).status,
    ),
  ).toBe(204);
  await page.goto(`${pierHall()}/desk`);
  await expect(page.getByRole('link', { name: 'Pier Hall spring meet' })).toHaveCount(0);
  await page.goto(`${hall.address}/desk`);
  await expect(page.getByRole('link', { name: 'Harbour Hall spring meet' })).toBeVisible();
});
