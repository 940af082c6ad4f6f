import { expect, test, type Locator, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { planBoard, todayAtTen } from './board-hall';
import { clean } from './clean';
import { Keyboard } from './desk-keyboard';

let hall: Hall;
const meet = 'spring';
const juniors = 'Juniors 6 to 10';
const seniors = 'Seniors 11 to 14';
const today = todayAtTen();
test.use({ timezoneId: today.time_zone });

test.beforeAll(async () => {
  test.setTimeout(180_000);
  hall = await Hall.open();
  await planBoard(hall, meet, 5, [juniors, seniors], 10, { lanes: 5, plan: today });
});
test.afterAll(() => hall.close());

const section = (page: Page | Locator, name: string) => page.getByRole('group', { name, exact: true });
async function open(page: Page, at: string, width = 1280, height = 800) {
  await page.setViewportSize({ width, height });
  await page.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}/${at}#`));
}
async function fits(page: Page) {
  await clean(page);
  await page.setViewportSize({ width: 360, height: 740 });
  await clean(page);
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
}

test('tasks of the day and the adults are planned by keyboard, and the day goes around them', async ({ page }) => {
  test.setTimeout(120_000);
  await open(page, 'plan');
  const keyboard = new Keyboard(page);
  await keyboard.press('Change the day');
  const tasks = section(page.getByRole('dialog'), 'Beside the races');
  await keyboard.type('Adults at the benches', '2');
  await keyboard.press('Add a task', tasks);
  await keyboard.type('Minutes', '20', tasks);
  await keyboard.press('Add a task', tasks);
  await tasks.getByLabel('Task', { exact: true }).nth(1).focus();
  await page.keyboard.type('Lunch');
  await tasks.getByLabel('Minutes', { exact: true }).nth(1).focus();
  await page.keyboard.type('40');
  await tasks.getByLabel('Begins at').nth(1).fill('12:30');
  await fits(page);
  await keyboard.press('Save', page.getByRole('dialog'));
  await expect(page.getByRole('dialog')).toHaveCount(0);
  const { plan } = await hall.ask<{ plan: object }>('GET', `/meets/${meet}`);
  expect(plan).toMatchObject({
    adults: 2,
    tasks: [
      { kind: 'set-up', minutes: 20 },
      { kind: 'lunch', minutes: 40, at: '12:30' },
    ],
  });
  await open(page, 'times');
  const items = section(page, 'Beside the races').getByRole('listitem');
  await expect(items).toHaveText([
    /09:00.*09:20.*Set-up/,
    /12:30.*13:10.*Lunch/,
    /17:10.*17:30.*Prize-giving/,
    /17:30.*18:00.*Packing/,
  ]);
  await expect(page.getByText('2 adults run the benches', { exact: false })).toBeVisible();
});

test('a day is rehearsed, and its weak point is named', async ({ page }) => {
  test.setTimeout(120_000);
  await open(page, 'times');
  const before = await hall.log(meet);
  const rehearse = section(page, 'Rehearse my day');
  await new Keyboard(page).press('Rehearse my day', rehearse);
  await expect(rehearse.getByRole('status')).toContainText(/The weak point: /, { timeout: 20_000 });
  await expect(rehearse.getByRole('status')).toContainText(
    /As planned the last race is over at \d\d:\d\d; with all of it about \d\d:\d\d\./,
  );
  const costs = rehearse.getByRole('table', { name: 'What each costs' }).getByRole('row');
  await expect(costs).toHaveCount(4); // none of an inspection: no class has a checklist
  await expect(costs.nth(3)).toContainText('One adult fewer: 1 is left');
  // Nothing of it is in the day.
  expect(await hall.log(meet)).toEqual(before);
  await fits(page);
});

test('cuts are chosen and ordered by keyboard, printed with the rules, and stay once a heat is called', async ({
  page,
}) => {
  test.setTimeout(180_000);
  // Cuts of a programme are those before the draw.
  for (const id of ['d3', 'd4']) {
    await hall.ask('PUT', `/meets/${meet}/divisions/${id}`, {
      name: id === 'd3' ? 'Minis 4 to 5' : 'Open',
      age_from: 0,
      age_to: 0,
      class: { name: 'Open class', lap_m: 3 },
      stages: [{ kind: 'timed-rounds', rounds: 3, race_s: 60, lanes: 2, rule: 'best' }],
    });
    for (let n = 1; n <= 6; n++) {
      const person = {
        name: `Kit ${id} ${n}`,
        display_name: `Otter ${n}`,
        on_screen: true,
        in_results: true,
        photo: false,
      };
      const start_number = (id === 'd3' ? 100 : 200) + n;
      await hall.ask('POST', `/meets/${meet}/entries`, { id: `${id}e${n}`, division: id, start_number, person });
    }
  }
  await open(page, 'times');
  const late = section(page, 'If it gets late');
  const keyboard = new Keyboard(page);
  await keyboard.press('See what can be left out', late);
  await expect(late.getByText('Nothing is chosen yet.')).toBeVisible();
  await keyboard.press(/^Put on the list: .*Minis 4 to 5/, late);
  await keyboard.press(/^Put on the list: .*Open/, late);
  const list = late.locator('ol').getByRole('listitem');
  await expect(list).toHaveText([/Minis 4 to 5/, /Open/]);
  await keyboard.press(/^Sooner: .*Open/, late);
  await expect(list).toHaveText([/Open/, /Minis 4 to 5/]);
  await keyboard.press('Save the list', late);
  await expect(late.getByRole('status').filter({ hasText: 'The list is saved.' })).toBeVisible();
  await expect(late.getByText('Number 1 of the list that was printed with the rules.')).toBeVisible();
  await fits(page);

  // Families read it, and what the day has beside its races.
  await page.goto(`${hall.address}/m/${meet}/rules`);
  const printed = page.getByRole('heading', { name: 'If it gets late' }).locator('xpath=ancestor::section[1]');
  await expect(printed.getByRole('listitem')).toHaveText([
    /Open: one round less.*\d+ minutes earlier, 6 children race less, each races at least 2 times/,
    /Minis 4 to 5: one round less/,
  ]);
  const beside = page.getByRole('heading', { name: 'The day beside the races' }).locator('xpath=ancestor::section[1]');
  await expect(beside.getByRole('listitem').first()).toContainText('09:00 to 09:20: Set-up');
  await fits(page);

  // Once racing has begun the list stays, and says of anything else that it was not on it.
  await hall.ask('POST', `/meets/${meet}/heats/d1-1.1.1/call?sure=true`, {});
  await open(page, 'times');
  await late.getByRole('button', { name: 'See what can be left out' }).click();
  await expect(late.getByText('Number 1 of the list that was printed with the rules.')).toBeVisible();
  await expect(late.getByRole('heading', { name: 'Chosen before the day' })).toHaveCount(0);
  await expect(section(page, 'Rehearse my day')).toHaveCount(0);
  await expect(late.getByRole('table').getByRole('row').filter({ hasText: juniors }).first()).toContainText('no');
});

test('adults who are here now are counted once it is seen what moves', async ({ page }) => {
  test.setTimeout(120_000);
  await open(page, 'times');
  const before = await hall.log(meet);
  const look = section(page, 'What if …');
  const keyboard = new Keyboard(page);
  await keyboard.type('Adults at the benches', '1', look);
  await page.keyboard.press('Enter');
  await expect(look.getByRole('status')).toContainText('That is');
  await expect(look.getByRole('status')).toContainText('later than as the day stands');
  expect(await hall.log(meet)).toEqual(before);
  await fits(page);
  await keyboard.press('1 adult is here now: plan with so many', look);
  await expect(look.getByRole('status')).toContainText('The day is planned with 1 adult now.');
  expect((await hall.log(meet)).slice(before.length)).toEqual(['AdultsCounted']);
  await expect(page.getByText('1 adult runs the benches', { exact: false })).toBeVisible();
});
