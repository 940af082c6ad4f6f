import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { Keyboard } from './desk-keyboard';
import { countAll, planSeeds, planTogether } from './seeds-hall';

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await planSeeds(hall, 'autumn');
});
test.afterAll(() => hall.close());

test.use({ viewport: { width: 1280, height: 800 } });

test('a seed order by keyboard: arrange, undo, look ahead, send, draw, and again by ruling', async ({ page }) => {
  test.setTimeout(120_000);
  const k = new Keyboard(page);
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/autumn`);
  await expect(page.getByRole('heading', { name: 'A division waits for its seed order' })).toBeVisible();
  await k.follow('Seed order');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Seed order: Seniors');
  const status = page.getByRole('status');
  const rows = page.getByRole('list').first().getByRole('listitem');
  await expect(rows).toHaveCount(8);
  await clean(page);

  await test.step('arrow keys, Home and End move it, the focus stays and every move is told', async () => {
    const handle = () => page.getByRole('button', { name: /^Move 8 Walnut/ });
    await k.to(handle());
    await page.keyboard.press('ArrowUp');
    await expect(status.getByText('Car 8 Walnut is now seed 7 of 8.')).toBeAttached();
    await expect(handle()).toBeFocused();
    await page.keyboard.press('Home');
    await expect(status.getByText('Car 8 Walnut is now seed 1 of 8.')).toBeAttached();
    await page.keyboard.press('ArrowUp');
    await expect(status.getByText('Car 8 Walnut stays seed 1 of 8.')).toBeAttached();
    await page.keyboard.press('End');
    await page.keyboard.press('ArrowUp');
    await expect(handle()).toHaveAccessibleName('Move 8 Walnut: seed 7 of 8');
    await expect(handle()).toBeFocused();
  });

  await test.step('a place is typed, and undo takes it back', async () => {
    await k.to(page.getByLabel('Place of 3 Turbot'));
    await page.keyboard.press('Control+A');
    await page.keyboard.type('1');
    await page.keyboard.press('Enter');
    await expect(rows.first()).toContainText('Turbot');
    await k.press('Undo');
    await expect(rows.first()).toContainText('Lantern');
    await k.to(page.getByLabel('Place of 5 Zigzag'));
    await page.keyboard.press('Control+A');
    await page.keyboard.type('1');
    await page.keyboard.press('Tab');
    await expect(rows.first()).toContainText('Zigzag');
  });

  await test.step('the server says who would meet whom', async () => {
    const preview = page.getByRole('group', { name: 'First round' });
    await expect(preview.getByRole('listitem')).toHaveCount(4);
    await expect(preview.getByRole('listitem').first()).toContainText('5 Zigzag against');
    await clean(page);
  });

  await test.step('sent, it stands until the draw', async () => {
    await k.press('Give this order');
    await expect(page.getByText('The order is given.')).toBeVisible();
    await k.follow('To the programme');
    await k.press('Draw the first round');
    await expect(page.getByText(/^Quarter-finals are drawn\.$/)).toBeVisible();
    await k.follow('Seed order');
    await expect(page.getByText('changes only by drawing again')).toBeVisible();
    await expect(rows).toHaveCount(7); // one never came
    await expect(page.getByRole('button', { name: /^Move/ })).toHaveCount(0);
    await clean(page);
  });

  await test.step('by ruling it is drawn again in another order', async () => {
    await k.press('Draw again in another order');
    await k.to(page.getByRole('button', { name: /^Move 4 Nutmeg/ }));
    await page.keyboard.press('Home');
    await k.press('Draw again in this order');
    await clean(page);
    await k.press('Draw again in this order', k.dialog());
    await expect(page.getByText('The order is given.')).toBeVisible();
    await expect(rows.first()).toContainText('Nutmeg');
  });
  const log = await hall.log('autumn');
  expect(log.filter((type) => /Seeded|Drawn/.test(type))).toEqual([
    'DivisionSeeded',
    'RoundDrawn',
    'DivisionSeeded',
    'RoundDrawnAgain',
  ]);
});

test('a seed is dragged by its handle', async ({ page }) => {
  await planSeeds(hall, 'winter');
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/winter/seeds/seniors`);
  const rows = page.getByRole('list').first().getByRole('listitem');
  await expect(rows).toHaveCount(8);
  const from = (await page.getByRole('button', { name: /^Move 1 Lantern/ }).boundingBox())!;
  const to = (await rows.nth(3).boundingBox())!;
  await page.mouse.move(from.x + 10, from.y + 10);
  await page.mouse.down();
  await page.mouse.move(to.x + 10, to.y + to.height / 2, { steps: 5 });
  await page.mouse.up();
  await expect(rows.nth(3)).toContainText('Lantern');
  await expect(rows.first()).toContainText('Puffin');
});

test('divisions race together by keyboard, each is ranked apart, and the promise of races is watched', async ({
  page,
}) => {
  test.setTimeout(120_000);
  const k = new Keyboard(page);
  await planTogether(hall, 'together');
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/together/plan`);

  await test.step('merge, split and merge again', async () => {
    for (const last of [false, true]) {
      await k.press('Race together with …: Juniors');
      await clean(page);
      await k.tick('Minis', k.dialog());
      await k.press('Race together with …', k.dialog());
      await expect(page.getByText('Together with Minis, ranked apart.')).toBeVisible();
      await expect(page.getByText('Races in Juniors, ranked apart.')).toBeVisible();
      if (last) break;
      await k.press('Split again: Juniors');
      await k.press('Split again', k.dialog());
      await expect(page.getByText('ranked apart')).toHaveCount(0);
    }
  });

  await test.step('closing the entries asks who knows that somebody may race less often than promised', async () => {
    await page.goto(`${hall.address}/desk/m/together/programme/juniors`);
    await k.press('Close entries: Juniors');
    await k.press('Close entries', k.dialog());
    await expect(k.dialog().getByText('The rules promise everybody 2 races')).toBeVisible();
    await expect(k.dialog().getByRole('link', { name: 'Change the promise or the programme' })).toBeVisible();
    await clean(page);
    await k.tick('Close all the same: some may race less often than promised', k.dialog());
    await k.press('Close entries', k.dialog());
    await expect(page.getByRole('dialog')).toHaveCount(0);
    await hall.ask('POST', '/meets/together/divisions/juniors/draw');
    await countAll(hall, 'together', 'juniors');
    await page.goto(`${hall.address}/desk/m/together`);
    await expect(page.getByRole('heading', { name: 'To decide' })).toBeVisible();
    await expect(page.getByText('Somebody would go home with fewer races than promised')).toHaveCount(0);
    await clean(page);
  });

  await test.step('each division has its own places, and the pairings say why', async () => {
    await page.goto(`${hall.address}/desk/m/together/programme/juniors`);
    await expect(page.getByText('Why: both have the same points').first()).toBeVisible();
    const rows = page.getByRole('table', { name: 'Standings' }).getByRole('row');
    await expect(rows).toHaveCount(6);
    await k.choose('Ranked in', 'Minis');
    await expect(rows).toHaveCount(3);
    await clean(page);
    await page.goto(`${hall.address}/m/together/standings/minis`);
    await expect(page.getByRole('row')).toHaveCount(3);
    await page.goto(`${hall.address}/m/together/standings/juniors`);
    await expect(page.getByText('1st of Minis').filter({ visible: true }).first()).toBeVisible();
  });

  await test.step('published, the races are rated', async () => {
    await hall.ask('POST', '/meets/together/divisions/juniors/publish');
    await page.goto(`${hall.address}/desk/people`);
    await expect(page.getByRole('table', { name: 'Ratings' }).getByRole('row')).toHaveCount(5);
    await clean(page);
  });
});
