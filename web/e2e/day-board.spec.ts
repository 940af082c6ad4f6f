import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { planBoard } from './board-hall';
import { clean } from './clean';

const meet = 'spring';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(180_000);
  hall = await Hall.open();
  await planBoard(hall, meet, 6, ['Juniors 6 to 10', 'Seniors 11 to 14'], 12);
  await hall.call(meet, 'd1-1.1.1');
});
test.afterAll(() => hall.close());

async function open(page: Page, view: string) {
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}/times#`));
  await page.getByRole('button', { name: view }).click();
  const board = page.getByRole('listbox', { name: /^Board of/ });
  await expect(board).toBeVisible();
  return board;
}
const order = async () => {
  const { next } = await hall.ask<{ next: { id: string }[] }>('GET', `/meets/${meet}/board`);
  return next.map((heat) => heat.id);
};

test('the board is walked and heats are moved by the keyboard', async ({ page }) => {
  const board = await open(page, 'Next hour');
  await board.focus();
  const at = board.getByRole('option');
  await expect(at).toHaveAccessibleName(
    /^Juniors 6 to 10: Round 1, heat 1, about \d\d:\d\d, benches \d, \d, \d and \d, called$/,
  );
  await page.keyboard.press('ArrowRight');
  await expect(at).toHaveAccessibleName(/heat \d, about .*, drawn$/);
  const before = await order();
  const moved = (await at.getAttribute('aria-label'))!.split(', about')[0]!;
  await page.keyboard.press('Shift+ArrowRight');
  await expect(page.getByRole('status').filter({ hasText: `${moved} is 2nd now` })).toBeVisible();
  await expect.poll(order).toEqual([before[1], before[0], ...before.slice(2)]);
  await page.keyboard.press('Shift+Home');
  await expect.poll(order).toEqual(before);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('button', { name: `Later: ${moved}` })).toBeFocused();
  await clean(page);
  await page.setViewportSize({ width: 360, height: 740 });
  await clean(page);
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
});

test('a heat is dragged behind another one; a table says the same', async ({ page }) => {
  const board = await open(page, 'Next hour');
  const before = await order();
  const bar = (heat: string) => board.locator(`[data-key="${heat}"]`).first();
  await board.scrollIntoViewIfNeeded();
  const from = (await bar(before[0]!).boundingBox())!;
  const to = (await bar(before[2]!).boundingBox())!;
  await page.mouse.move(from.x + 10, from.y + 10);
  await page.mouse.down();
  await page.mouse.move(to.x + 12, from.y + 10, { steps: 5 });
  await expect(page.getByRole('status').filter({ hasText: /^Before .*, about \d\d:\d\d\.|^Behind all/ })).toBeVisible();
  await page.mouse.up();
  await expect.poll(order).not.toEqual(before);
  expect((await order()).indexOf(before[0]!)).toBeGreaterThan(0);

  await page.getByText('The board as a table').click();
  const table = page.getByRole('table', { name: 'The board as a table' });
  const called = table.getByRole('row').filter({ hasText: 'Juniors 6 to 10: Round 1, heat 1' });
  await expect(called.getByRole('cell').nth(1)).toHaveText('called');
  await clean(page);
});

test('the rest of the day ends with prizes, packing and the keys; a bench that fails is said at once', async ({
  page,
}) => {
  const board = await open(page, 'Rest of the day');
  for (const says of ['now', 'keys back', 'last race by', 'Prize-giving', 'Packing'])
    await expect(board.getByText(says, { exact: true })).toBeVisible();
  const lanes = await hall.lanes(meet, 'd1-1.1.1');
  const bench = Object.keys(lanes)[0]!;
  await hall.ask('POST', `/meets/${meet}/benches/${bench}/service`, { out: true, reason: { code: 'bench-fault' } });
  await expect(
    page.getByRole('status').filter({ hasText: /heat 1 is on bench \d, which is out of service/ }),
  ).toBeVisible();
  await expect(board.getByText('out of service')).toBeVisible();
  await clean(page);
  await hall.ask('POST', `/meets/${meet}/benches/${bench}/service`, { out: false });
  await expect(board.getByText('out of service')).toBeHidden();
});

test('a heat is called to benches that somebody chooses', async ({ page }) => {
  await open(page, 'Next hour');
  await hall.ask('POST', `/meets/${meet}/heats/d1-1.1.1/call-off`, { reason: { code: 'other' } });
  const [heat] = await order();
  await page.locator(`[data-key="${heat}"]`).first().click();
  await page.getByRole('button', { name: /^Call to other benches/ }).click();
  const dialog = page.getByRole('dialog');
  for (const [at, select] of (await dialog.getByRole('combobox').all()).entries())
    await select.selectOption(`b${6 - at}`);
  await clean(page);
  await dialog.getByRole('button', { name: 'Call', exact: true }).click();
  await expect(dialog).toBeHidden();
  await expect.poll(async () => Object.keys(await hall.lanes(meet, heat!)).sort()).toEqual(['b3', 'b4', 'b5', 'b6']);
});
