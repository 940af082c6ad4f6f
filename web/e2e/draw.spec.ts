import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { usualRules } from './usual-rules';

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(180_000); // the binary may have to be built
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await plan('knockout', 16, { kind: 'knockout', race_s: 20, lanes: 2, third_place: true });
  await plan('double', 6, { kind: 'double-elimination', race_s: 20, lanes: 2 });
  await plan('groups', 4, { kind: 'round-robin', race_s: 20, lanes: 2 });
  for (const meet of ['knockout', 'groups']) await raceFirst(meet);
});
test.afterAll(() => hall.close());

/** plan a division of one stage, and draw it. */
async function plan(meet: string, cars: number, stage: object) {
  await hall.ask('POST', '/meets', {
    id: meet,
    plan: { name: 'Harbour Hall spring meet', date: '2027-04-17' },
    rules: usualRules,
  });
  for (const bench of ['b1', 'b2']) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  await hall.ask('PUT', `/meets/${meet}/divisions/open`, {
    name: 'Open',
    age_from: 0,
    age_to: 0,
    class: { name: 'Open class', lap_m: 1 },
    stages: [stage],
  });
  for (let n = 1; n <= cars; n++) {
    const person = { name: `Kit ${n}`, display_name: `Otter ${n}`, on_screen: true, in_results: true, photo: false };
    await hall.ask('POST', `/meets/${meet}/entries`, { id: `e${n}`, division: 'open', start_number: n, person });
    await hall.ask('POST', `/meets/${meet}/entries/e${n}/check-in`, { there: true });
  }
  await hall.ask('POST', `/meets/${meet}/divisions/open/entries-closed`, { closed: true });
  await hall.ask('POST', `/meets/${meet}/divisions/open/draw`);
}

/** raceFirst races the first heat; the lower number goes further. */
async function raceFirst(meet: string) {
  const lanes = Object.entries(await hall.call(meet, 'open-1.1.1'));
  for (const [bench, lane] of lanes) await hall.ready(meet, 'open-1.1.1', bench, lane.racer.start_number);
  await hall.start(meet, 'open-1.1.1');
  for (const [, lane] of lanes) {
    await hall.ask('POST', `/meets/${meet}/heats/open-1.1.1/hand-count`, {
      entry: lane.racer.entry,
      distance_m: 400 - lane.racer.start_number,
      u_distance_m: 0.5,
    });
  }
}

async function sound(page: Page) {
  await clean(page);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth),
  ).toBeLessThanOrEqual(0);
}

const words = (page: Page, part: string) => page.getByRole('list', { name: `${part}, heat by heat` });

test('a wall shows the whole draw of sixteen in sizes that are read from afar', async ({ page }) => {
  await page.setViewportSize({ width: 1920, height: 1080 });
  await page.goto(`${hall.address}/m/knockout/bracket/open`);
  const picture = page.locator('.room svg');
  await expect(picture.locator('text.title')).toHaveText([
    'Last 16',
    'Quarter-finals',
    'Semi-finals',
    'Final',
    'Semi-finals',
    'Quarter-finals',
    'Last 16',
  ]);
  await expect(picture.locator('path.tick')).toHaveCount(1);
  expect(
    await picture
      .locator('text.name')
      .first()
      .evaluate((e) => parseFloat(getComputedStyle(e).fontSize)),
  ).toBeGreaterThan(23);
  // Nothing is below the edge of a wall, and nothing beside it.
  expect(await picture.evaluate((e) => e.parentElement!.clientWidth - e.clientWidth)).toBeGreaterThanOrEqual(0);
  expect(await picture.evaluate((e) => e.parentElement!.clientHeight - e.clientHeight)).toBeGreaterThanOrEqual(0);
  await expect(words(page, 'The draw')).toContainText(/Heat 1\.1: \d+ Otter \d+(, won)?, 3\d\d\.\d m/);
  await expect(words(page, 'The draw')).toContainText('Race for third place');
  await sound(page);
});

test('a double elimination turns through winners, losers and finals, and can be held', async ({ page }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto(`${hall.address}/m/double/bracket/open`);
  await expect(page.getByRole('heading', { level: 2 })).toHaveText('Winners’ rounds');
  const hold = page.getByRole('button', { name: 'Hold' });
  await hold.press('Enter');
  await expect(hold).toHaveAttribute('aria-pressed', 'true');
  await page.getByRole('button', { name: 'Next part' }).click();
  await expect(page.getByRole('heading', { level: 2 })).toHaveText('Losers’ rounds');
  await page.getByRole('button', { name: 'Next part' }).click();
  await expect(page.getByRole('heading', { level: 2 })).toHaveText('Finals');
  await expect(page.locator('.room rect.maybe')).toHaveCount(1);
  await expect(words(page, 'Finals')).toContainText('raced only if needed');
  await sound(page);
});

test('a phone has the rounds as lists, a stroke apart', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(`${hall.address}/m/knockout/bracket/open`);
  await expect(page.getByRole('article').first()).toBeVisible();
  await expect(page.locator('.room svg')).toHaveCount(0);
  await sound(page);
});

test('paper has the picture', async ({ page }) => {
  await page.goto(`${hall.address}/m/double/bracket/open`);
  await expect(page.getByRole('heading', { level: 2 }).first()).toBeVisible();
  await page.emulateMedia({ media: 'print' });
  await expect(page.locator('.paper svg').first()).toBeVisible();
  await expect(page.locator('.room svg')).toBeHidden();
});

test('who beat whom stands in a table, on the screen and at the desk', async ({ page }) => {
  await page.goto(`${hall.address}/m/groups/bracket/open`);
  const table = page.getByRole('table', { name: 'Who beat whom' });
  await expect(table.getByRole('row').nth(1)).toContainText(/won/);
  await expect(table.getByRole('row').nth(1).getByRole('cell').last()).toHaveText('2');
  await sound(page);
  await page.goto(await hall.signIn());
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  await page.goto(`${hall.address}/desk/m/groups/programme/open`);
  await expect(page.getByRole('table', { name: 'Who beat whom' })).toBeVisible();
  await sound(page);
  await page.goto(`${hall.address}/desk/m/double/programme/open`);
  await expect(page.getByRole('region', { name: 'Winners’ rounds' }).locator('svg')).toBeVisible();
  await sound(page);
});

test('a phone cuts no word at its hyphen', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  for (const path of ['', '/bracket/open']) {
    await page.goto(`${hall.address}/m/knockout${path}`);
    await expect(page.getByRole('listitem').filter({ hasText: 'Otter' }).first()).toBeVisible();
    const cut = await page.getByRole('main').evaluate((main) => {
      const texts = document.createTreeWalker(main, NodeFilter.SHOW_TEXT);
      const found: string[] = [];
      for (let text = texts.nextNode(); text; text = texts.nextNode())
        for (const [word] of text.textContent!.matchAll(/\p{L}+-\p{L}+/gu))
          if (!getComputedStyle(text.parentElement!).whiteSpace.startsWith('nowrap')) found.push(word);
      return found;
    });
    expect(cut, path).toEqual([]);
  }
});
