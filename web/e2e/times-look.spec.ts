import { expect, test, type Locator, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { Keyboard } from './desk-keyboard';
import { usualRules } from './usual-rules';

let hall: Hall;
const meet = 'spring';

/** division of some cars from a start number on: a knockout of two lanes, drawn. */
async function division(id: string, name: string, from: number, cars: number, race_s: number) {
  await hall.ask('PUT', `/meets/${meet}/divisions/${id}`, {
    name,
    age_from: 0,
    age_to: 0,
    class: { name: 'Open class', lap_m: 3 },
    stages: [{ kind: 'knockout', race_s, lanes: 2 }],
  });
  for (let n = from; n < from + cars; n++) {
    const person = { name: `Kit ${n}`, display_name: `Otter ${n}`, on_screen: true, in_results: true, photo: false };
    await hall.ask('POST', `/meets/${meet}/entries`, { id: `e${n}`, division: id, start_number: n, person });
    await hall.ask('POST', `/meets/${meet}/entries/e${n}/check-in`, { there: true });
  }
  await hall.ask('POST', `/meets/${meet}/divisions/${id}/entries-closed`, { closed: true });
  await hall.ask('POST', `/meets/${meet}/divisions/${id}/draw`);
}

test.beforeAll(async () => {
  test.setTimeout(180_000);
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await hall.ask('POST', '/meets', {
    id: meet,
    plan: { name: 'Harbour Hall spring meet', place: 'Harbour Hall', date: '2027-04-17' },
    rules: usualRules,
  });
  for (const bench of ['b1', 'b2']) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  await division('short', 'Juniors 6 to 10', 1, 4, 10);
  await division('long', 'Seniors 11 to 14', 11, 2, 600);
  // The long race first: the final of the others then waits for their protest time with nothing on the benches.
  await hall.ask('POST', `/meets/${meet}/day-plan/order`, { order: ['long-1.1.1'] });
});
test.afterAll(() => hall.close());

const section = (page: Page, name: string) => page.getByRole('group', { name, exact: true });
const row = (part: Locator, heat: string) =>
  part.getByRole('row').filter({ has: part.page().getByRole('rowheader', { name: heat, exact: true }) });
async function open(page: Page) {
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}/times#`));
  await expect(page.getByText(/^The last race is likely over at \d/)).toBeVisible();
}

test('a look at the day says what moves and why, and changes nothing', async ({ page }) => {
  await open(page);
  const look = section(page, 'What if …');
  const before = await hall.log(meet);
  // By the keyboard alone.
  await look.getByLabel('Bench 2').focus();
  await page.keyboard.press('Space');
  await page.keyboard.press('Tab');
  await page.keyboard.type('10');
  await page.keyboard.press('Enter');
  const status = look.getByRole('status');
  await expect(status).toContainText(
    /would likely be over at \d\d:\d\d\. That is \d+ minutes later than as the day stands/,
  );
  await expect(status).toContainText('Seniors 11 to 14: Final has 2 cars, and 1 bench would be in service');
  await expect(row(look, 'Seniors 11 to 14: Final')).toContainText('waits for the end of the pause');
  await expect(row(look, 'Juniors 6 to 10: Semi-final 2')).toContainText(/\d+ minutes later/);
  await clean(page);
  await page.setViewportSize({ width: 360, height: 740 });
  await clean(page);
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  expect(await hall.log(meet)).toEqual(before);
  await look.getByRole('button', { name: 'Leave it' }).click();
  await expect(status).toBeEmpty();
  await expect(look.getByLabel('Bench 2')).not.toBeChecked();
});

test('an order in which the day ends earlier is offered, and left or taken up', async ({ page }) => {
  await open(page);
  const next = section(page, 'The next heats').getByRole('listitem');
  await expect(next.first()).toContainText('Seniors 11 to 14: Final');
  const better = section(page, 'An order in which the day ends earlier');
  await new Keyboard(page).press('Look for one', better);
  await expect(better.getByRole('status')).toContainText(/the last race would be over \d+ minutes earlier/);
  await expect(row(better, 'Juniors 6 to 10: Semi-final 1')).toContainText(
    /minutes earlier.*no longer waits for a free bench, of 2 in service, after Seniors 11 to 14: Final/,
  );
  await clean(page);
  const before = await hall.log(meet);
  await better.getByRole('button', { name: 'Leave it' }).click();
  await expect(better.getByRole('status')).toHaveText('The order stays as it is.');
  expect(await hall.log(meet)).toEqual(before);

  await better.getByRole('button', { name: 'Look for one' }).click();
  await new Keyboard(page).press('Take up this order', better);
  await expect(better.getByRole('status')).toHaveText('The heats are called in the new order now.');
  await expect(next.first()).toContainText('Juniors 6 to 10: Semi-final 1');
  expect((await hall.log(meet)).slice(before.length)).toEqual(['HeatsOrdered']);
  await better.getByRole('button', { name: 'Look for one' }).click();
  await expect(better.getByRole('status')).toHaveText(/None was found/);
});
