import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { raceHeat } from './forms-hall';
import { planPaper, type PaperEntry } from './paper-hall';

let hall: Hall;
let entries: PaperEntry[];
let run: string;
const text = 'pushed the other car away';
test.beforeAll(async () => {
  test.setTimeout(180_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3, 4, 5, 6);
  entries = await planPaper(hall, 'spring', 8);
  const { heats } = await hall.ask<{
    heats: { id: string; division: string; lanes: { racer: { entry: string } }[] }[];
  }>('GET', '/meets/spring/heats');
  const [first, second] = heats.filter((h) => h.division === 'junior');
  await raceHeat(hall, 'spring', first!.id);
  const entry = first!.lanes[0]!.racer.entry;
  await hall.ask('POST', '/meets/spring/rulings', {
    kind: 'penalise',
    heat: first!.id,
    entry,
    penalty_m: 3,
    reason: { code: 'conduct', text },
  });
  await hall.ask('POST', '/meets/spring/protests', { heat: first!.id, entry, reason: { code: 'family', text } });
  await hall.ask('POST', '/meets/spring/benches/b6/service', { out: true, reason: { code: 'power' } });
  await hall.call('spring', second!.id);
  run = (await hall.ask<{ runs: { id: string }[] }>('GET', '/meets/spring/runs')).runs[0]!.id;
});
test.afterAll(() => hall.close());

test.use({ viewport: { width: 1440, height: 900 } });

const pages = [
  '',
  '/entries',
  '/programme/junior',
  '/programme/senior',
  '/seeds/senior',
  '/inspection',
  '/inspection/1',
  '/batteries',
  '/rulings',
  '/benches',
  '/plan',
  '/paper',
  '/paper/start-list',
  '/paper/roll-call',
  '/paper/call-list',
  '/paper/heat-sheets',
  '/paper/results',
  '/paper/certificates',
  '/paper/evening',
];

/** shownOn is all that can be seen or is typed on a page. */
const shownOn = (page: Page) =>
  page.evaluate(
    () =>
      document.body.innerText +
      [...document.querySelectorAll('input, textarea')].map((field) => (field as HTMLInputElement).value).join(' '),
  );
/** What must not be seen, as it stands on the pages: names, birth dates, reasons, words about somebody. */
const secrets = () => [
  ...entries.flatMap((one) => [one.name, one.nickname, one.sayAs, one.born]),
  text,
  'Behaviour',
  'Family reasons',
  'Power failure',
  '2 May 20', // a birth date written out
];
const found = async (page: Page) => {
  const shown = (await shownOn(page)).toLowerCase();
  return secrets().filter((secret) => shown.includes(secret.toLowerCase()));
};

test('covered, no page of the desk shows a name, a birth date or a reason, and new content neither', async ({
  page,
}) => {
  test.setTimeout(300_000);
  page.setDefaultTimeout(20_000);
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible({ timeout: 20_000 });
  const at = async (path: string) => {
    await page.goto(`${hall.address}/desk${path}`);
    await expect(page.getByRole('heading', { level: 1 }).first()).toBeVisible({ timeout: 30_000 });
    await page.waitForLoadState('networkidle').catch(() => {});
    await page.waitForTimeout(400); // lists come after their page
  };

  // Uncovered they are there, so what is not found below was looked for rightly.
  await at('/m/spring/rulings');
  await expect(page.getByText(text).first()).toBeVisible({ timeout: 20_000 });
  await at('/people');
  await expect(page.getByText(entries[0]!.name).first()).toBeVisible({ timeout: 20_000 });
  expect((await found(page)).length).toBeGreaterThan(16);
  await at('/m/spring/entries');
  await expect(page.getByText(entries[0]!.sayAs).first()).toBeVisible({ timeout: 20_000 });

  // The key covers what stands there, a form that is open too.
  await page
    .getByRole('button', { name: /^Change.*Lantern/ })
    .first()
    .click();
  await page.keyboard.press('F8');
  await expect(page.getByText('Covered: numbers stand for names')).toBeVisible();
  await expect(page.getByText('Start number 1', { exact: true }).first()).toBeAttached({ timeout: 20_000 });
  expect(await found(page)).toEqual([]);
  await clean(page);

  for (const path of [
    '/people',
    '',
    '/keys',
    '/benches',
    ...pages.map((one) => `/m/spring${one}`),
    `/m/spring/runs/${run}`,
  ]) {
    await at(path);
    await expect(page.getByText('Covered: numbers stand for names')).toBeVisible();
    expect(await found(page), path).toEqual([]);
  }

  await test.step('what comes by the live feed is covered', async () => {
    await at('/m/spring');
    await expect(page.getByRole('heading', { name: 'Call board' })).toBeVisible({ timeout: 20_000 });
    const { heats } = await hall.ask<{ heats: { id: string; division: string }[] }>('GET', '/meets/spring/heats');
    await hall.call('spring', heats.find((h) => h.division === 'senior')!.id);
    await expect(page.getByRole('article', { name: /^Seniors/ })).toBeVisible({ timeout: 20_000 });
    expect(await found(page)).toEqual([]);
    await hall.ask('POST', '/meets/spring/pause', { reason: { code: 'conduct' } });
    await expect(page.getByText(/paused/i).first()).toBeVisible({ timeout: 20_000 });
    expect(await found(page)).toEqual([]);
    await hall.ask('POST', '/meets/spring/resume');
  });

  await test.step('no file with names is saved from under it', async () => {
    for (const path of ['/m/spring/entries', '/m/spring/programme/junior']) {
      await at(path);
      await expect(page.getByText('Take the cover off to save a file: it has names in it.')).toBeVisible();
      await expect(page.getByRole('link', { name: 'Save as CSV' })).toHaveCount(0);
    }
  });

  await test.step('it is taken off by the button, and names come back', async () => {
    await at('/m/spring/entries');
    await page.getByRole('button', { name: 'Cover names (F8)' }).click();
    await expect(page.getByText('Covered: numbers stand for names')).toHaveCount(0);
    await expect(page.getByRole('link', { name: 'Save as CSV' })).toBeVisible();
    await expect(page.getByText(entries[0]!.name).first()).toBeVisible({ timeout: 20_000 });
  });
});
