import { expect, test, type Page } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';
import { idsOf, saysNoID } from './ids';

const meet = 'spring';
const dialog = (page: Page) => page.getByRole('dialog');
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await hall.planMeet(meet, ['b1', 'b2'], 4, 2);
  const { rules } = await hall.ask<{ rules: object }>('GET', `/meets/${meet}`);
  const incidents = [{ incident: 'off-rollers', consequence: 'keep-distance' }];
  await hall.ask('PUT', `/meets/${meet}/rules`, { ...rules, incidents });
  const lanes = await hall.call(meet, 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(lanes))
    await hall.ready(meet, 'junior-1.1.1', bench, lane.racer.start_number);
  await hall.start(meet, 'junior-1.1.1');
  for (const [bench, lane] of Object.entries(lanes)) await new CounterBox(hall, bench, meet).run(lane.armed!, 2);
  await new CounterBox(hall, 'b1', meet).run('nobody-asked', 2);
  await hall.call(meet, 'junior-1.1.2');
});
test.afterAll(() => hall.close());

const pages = [
  '',
  '/new',
  '/benches',
  '/keys',
  '/people',
  '/no-such-page',
  `/m/${meet}`,
  `/m/${meet}/entries`,
  `/m/${meet}/programme`,
  `/m/${meet}/inspection`,
  `/m/${meet}/inspection/7`,
  `/m/${meet}/inspection/99`,
  `/m/${meet}/batteries`,
  `/m/${meet}/rulings`,
  `/m/${meet}/benches`,
  `/m/${meet}/seeds`,
  `/m/${meet}/plan`,
  '/m/no-such-meet',
];

const papers = ['', '/evening', '/plates', '/heats', '/results'].map((part) => `/m/${meet}/paper${part}`);

for (const [width, height] of [
  [1280, 800],
  [390, 844],
] as const) {
  test(`every page of the desk at ${width} by ${height}: one title, nothing for axe, nothing wider than the screen`, async ({
    page,
  }) => {
    test.setTimeout(240_000);
    await page.setViewportSize({ width, height });
    await page.goto(await hall.signIn('organiser', 'laptop'));
    await expect(page.getByText('Signed in as organiser')).toBeVisible();
    for (const path of pages) {
      await page.goto(`${hall.address}/desk${path}`);
      await expect(page.getByText('Asking the server …')).toHaveCount(0);
      await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1);
      await clean(page);
      await expect
        .poll(() => page.evaluate(() => document.documentElement.scrollWidth), { message: path })
        .toBeLessThanOrEqual(width);
      const beyond = await page.locator('td:last-child button').evaluateAll((list, most) => {
        const right = list.map((one) => one.getBoundingClientRect().right);
        return right.filter((at) => at > most).length;
      }, width);
      expect(beyond, `keys of ${path} that only scrolling shows`).toBe(0);
    }
  });
}

test('a request for a re-run quotes the rule of the meet, and the black button is what it says', async ({ page }) => {
  const { heats } = await hall.ask<{ heats: { id: string; lanes: { racer: { entry: string } }[] }[] }>(
    'GET',
    `/meets/${meet}/heats`,
  );
  const entry = heats.find((h) => h.id === 'junior-1.1.1')!.lanes[0]!.racer.entry;
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/${meet}`);
  await hall.ask('POST', `/meets/${meet}/heats/junior-1.1.1/ask-rerun`, { entry, reason: { code: 'off-rollers' } });
  const card = page
    .getByRole('article')
    .filter({ has: page.getByRole('heading', { name: 'A bench asks for a re-run' }) });
  await expect(card).toContainText('The rules for “Car off the rollers” say: Keep the distance.');
  await expect(card.locator('button.main')).toHaveCount(1);
  await expect(card.locator('button.main')).toHaveText('Turn down');
  await expect(card.getByRole('button', { name: /^Grant a re-run/ })).toBeVisible();
});

test('dialogs, paper, bench and public pages name heats, benches and runs without their ids', async ({ page }) => {
  test.setTimeout(180_000);
  const ids = await idsOf(hall, meet);
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  for (const path of [...pages, ...papers]) {
    await page.goto(`${hall.address}/desk${path}`);
    await expect(page.getByRole('heading', { level: 1 })).not.toHaveCount(0);
    await saysNoID(page, ids);
  }
  await page.goto(`${hall.address}/desk/m/${meet}/rulings`);
  for (const name of ['Give it to a car', 'Rule']) {
    const open = page
      .getByRole('main')
      .getByRole('button', { name: new RegExp(`^${name}`) })
      .first();
    if (!(await open.isVisible())) continue;
    await open.click();
    await expect(page.getByRole('dialog')).toBeVisible();
    await saysNoID(page, ids);
    await page.keyboard.press('Escape');
    await expect(page.getByRole('dialog')).toHaveCount(0);
  }

  const [run] = (await hall.ask<{ runs: { id: string }[] }>('GET', `/meets/${meet}/runs`)).runs;
  const [entry] = (
    await hall.ask<{ heats: { lanes: { racer: { entry: string } }[] }[] }>('GET', `/meets/${meet}/heats`)
  ).heats[0]!.lanes;
  for (const path of [
    '/',
    '/?list',
    `/m/${meet}`,
    ...[
      'rules',
      'standings/junior',
      'bracket/junior',
      `runs/${run!.id}`,
      `cars/${entry!.racer.entry}`,
      'class/junior',
    ].map((part) => `/m/${meet}/${part}`),
  ]) {
    await page.goto(`${hall.address}${path}`);
    await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1);
    await expect(page.getByRole('heading', { name: /^(No such|Nothing here)/ })).toHaveCount(0);
    await saysNoID(page, ids);
  }
  for (const bench of ['b1', 'b2']) {
    await page.goto(`${hall.address}/bench/${bench}`);
    await expect(page.getByRole('main')).toContainText(/\w/);
    await saysNoID(page, ids);
  }
});

test('whoever changes what a guardian agreed to is named with the child, newest first', async ({ page }) => {
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/people`);
  const change = async (label: string) => {
    await page
      .getByRole('button', { name: /^Change / })
      .first()
      .click();
    await dialog(page)
      .getByLabel(label)
      .setChecked(!(await dialog(page).getByLabel(label).isChecked()));
    await dialog(page).getByRole('button', { name: 'Save' }).click();
    await expect(dialog(page)).toHaveCount(0);
  };
  await change('Photographs');
  await change('Photographs');
  await page
    .getByRole('button', { name: /^Change / })
    .first()
    .click();
  const rows = dialog(page).getByRole('table', { name: 'What changed' }).getByRole('row');
  await expect(rows.nth(2)).toContainText('photo');
  await expect(rows.nth(1)).not.toContainText('photo');
  await expect(rows.nth(1)).toContainText(/\d:\d\d/);
  await clean(page);
});

test('signed out, the desk shows nothing but the sign-in', async ({ page }) => {
  await page.goto(await hall.signIn('organiser', 'laptop'));
  await page.getByRole('button', { name: 'Sign out' }).click();
  await expect(page.getByRole('heading', { name: 'Sign in' })).toBeVisible();
  await page.goto(`${hall.address}/desk/people`);
  await expect(page.getByRole('heading', { name: 'Sign in' })).toBeVisible();
  await page.getByLabel('Key, or the whole link').fill('not-a-key');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('alert')).toBeVisible();
  await clean(page);
});
