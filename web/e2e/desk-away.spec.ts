import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { enter, planList } from './list-hall';

test.use({ viewport: { width: 1440, height: 900 } });

const [meet, trial] = ['spring', 'trial'];
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await planList(hall, meet);
  await enter(hall, meet, 1, 'Kit Otter');
  await enter(hall, meet, 2, 'Kim Puffin');
  await hall.ask('POST', '/meets', { id: trial, plan: { name: 'Only a trial', date: '2027-04-01' } });
  const stages = [{ kind: 'timed-rounds', rounds: 1, race_s: 10, lanes: 2, rule: 'best' }];
  await hall.ask('PUT', `/meets/${trial}/divisions/open`, {
    name: 'Open',
    age_from: 0,
    age_to: 0,
    class: { name: 'Open class', lap_m: 3 },
    stages,
  });
  await enter(hall, trial, 7, 'Kit Lantern', { id: 'tried', division: 'open' });
});
test.afterAll(() => hall.close());

/** What a stranger is answered, by the addresses that are public. */
const answers = async (id: string) =>
  Promise.all(
    ['', '/board', '/entries', '/heats', '/runs', '/log', '/divisions/open/standings', '?at_least=9999'].map(
      async (path) => (await fetch(`${hall.address}/api/v1/meets/${id}${path}`)).status,
    ),
  );
const listed = async () => {
  const { meets } = (await (await fetch(`${hall.address}/api/v1/meets`)).json()) as { meets: { id: string }[] };
  return meets.map((m) => m.id);
};

test('a trial meet, a division and an entry are put away and brought back', async ({ page, browser }) => {
  test.setTimeout(300_000);
  const stranger = await (await browser.newContext()).newPage();
  await stranger.goto(`${hall.address}/m/${trial}`);
  await expect(stranger.getByText('Only a trial').first()).toBeVisible();
  // Phones of families, one of them without its network just then.
  const phones = await Promise.all(
    ['cars/tried', 'class/open', 'cars/tried'].map(async (path) => {
      const phone = await (await browser.newContext()).newPage();
      await phone.goto(`${hall.address}/m/${trial}/${path}`);
      await expect(phone.getByText('Live', { exact: true }), path).toBeVisible({ timeout: 20_000 });
      await expect(phone.getByText('Only a trial').first(), path).toBeVisible();
      return phone;
    }),
  );
  await phones.at(-1)!.context().setOffline(true);
  const nowhere = await answers('never-planned');

  await page.goto(await hall.signIn());
  await page.goto(`${hall.address}/desk/m/${trial}/plan`);
  await page.getByRole('button', { name: 'Put this meet away' }).click();
  await expect(page.getByRole('dialog').getByText('one press brings it back')).toBeVisible();
  await clean(page);
  await page.getByRole('dialog').getByRole('button', { name: 'Put it away' }).click();

  // For everybody else it is as if it had never been there, on an open page too.
  await expect(stranger.getByText('Only a trial')).toHaveCount(0, { timeout: 15_000 });
  await phones.at(-1)!.waitForTimeout(3_000); // its questions get no answer for a while
  await phones.at(-1)!.context().setOffline(false);
  for (const phone of phones) {
    await expect(phone.getByRole('heading', { name: 'No such race day' }), phone.url()).toBeVisible({
      timeout: 30_000,
    });
    await expect(phone.getByText('Live', { exact: true })).toHaveCount(0);
    await phone.context().close();
  }
  expect(await answers(trial)).toEqual(nowhere);
  expect(nowhere.every((status) => status === 404)).toBe(true);
  expect(await listed()).toEqual([meet]);
  const feed = await fetch(`${hall.address}/api/v1/meets/${trial}/live?topics=meet`);
  expect(feed.status).toBe(404);

  // On the desk it stands apart, and comes back with one press.
  const away = page.getByRole('group', { name: 'Put away' });
  await expect(away.getByRole('heading', { name: 'Only a trial' })).toBeVisible();
  await clean(page);
  await page.screenshot({ path: 'screenshots/meet-away.png' });
  await page.goto(`${hall.address}/desk/m/${trial}`);
  await expect(page.getByRole('heading', { name: 'This meet is put away' })).toBeVisible();
  await page.goto(`${hall.address}/desk`);
  await away.getByRole('button', { name: 'Bring it back: Only a trial' }).click();
  await expect(page.getByRole('link', { name: 'Only a trial' })).toBeVisible();
  expect(await listed()).toEqual([meet, trial].sort());
  await stranger.reload();
  await expect(stranger.getByText('Only a trial').first()).toBeVisible();
  expect((await hall.log(trial)).slice(-2)).toEqual(['PutAway', 'BroughtBack']);

  // An entry: its number is free, and it is told from one that goes home.
  await page.goto(`${hall.address}/desk/m/${meet}/entries`);
  await page.getByRole('button', { name: /^Change: .*1$/ }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Put this entry away' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Put it away' }).click();
  await expect(away.getByText('Kit Otter')).toBeVisible();
  await clean(page);
  await page.screenshot({ path: 'screenshots/entry-away.png' });
  const numbers = async () =>
    (
      (await (await fetch(`${hall.address}/api/v1/meets/${meet}/entries`)).json()) as {
        entries: { start_number: number }[];
      }
    ).entries.map((e) => e.start_number);
  expect(await numbers()).toEqual([2]);
  expect((await fetch(`${hall.address}/api/v1/meets/${meet}/entries/e1/day`)).status).toBe(404);
  await away.getByRole('button', { name: /^Bring it back/ }).click();
  await expect(away).toBeHidden();
  expect(await numbers()).toEqual([1, 2]);

  // A division goes with its entries.
  await page.goto(`${hall.address}/desk/m/${meet}/plan`);
  await page.getByRole('button', { name: 'Put away: Juniors 6 to 10' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Put it away' }).click();
  await expect(away.getByText('with 2 entries')).toBeVisible();
  await page.screenshot({ path: 'screenshots/division-away.png', fullPage: true });
  expect(await numbers()).toEqual([]);
  expect((await fetch(`${hall.address}/api/v1/meets/${meet}/divisions/junior/standings`)).status).toBe(404);
  await away.getByRole('button', { name: 'Bring it back: Juniors 6 to 10' }).click();
  await expect(page.getByRole('heading', { name: 'Juniors 6 to 10' })).toBeVisible();
  expect(await numbers()).toEqual([1, 2]);
  await stranger.context().close();
});
