import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { measure, planTable } from './table-hall';

test.describe.configure({ mode: 'serial' });

const meet = 'pause';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await planTable(hall, meet, ['b1', 'b2'], 2);
  for (const n of [7, 8]) await measure(hall, meet, `own${n}`, 3.1, { entry: `e${n}` });
});
test.afterAll(() => hall.close());

/** checked are the cars whose batteries may race. */
async function checked(): Promise<number> {
  const table = await hall.ask<{ entries: { battery: unknown[] }[] }>('GET', `/meets/${meet}/inspection`);
  return table.entries.filter((each) => each.battery.length === 0).length;
}

async function pause(page: Page, why: string): Promise<void> {
  await page.getByRole('button', { name: 'Pause the meet' }).click();
  const dialog = page.getByRole('dialog');
  await expect(dialog.getByText('The batteries of 2 cars have been checked.')).toBeVisible();
  await dialog.getByLabel('Reason').selectOption({ label: why });
  await dialog.getByRole('button', { name: 'Pause the meet' }).click();
  await expect(page.getByText(`The meet is paused: ${why}.`)).toBeVisible();
}

test('a pause says which battery checks hang on it, and resuming keeps them or has them taken again', async ({
  page,
}) => {
  await page.goto(await hall.signIn('official', 'desk'));
  await expect(page.getByText('Signed in as official')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/${meet}`);
  expect(await checked()).toBe(2);

  await test.step('an alarm: nobody was at the cars', async () => {
    await pause(page, 'Power failure');
    await page.getByRole('button', { name: 'Resume the meet' }).click();
    const dialog = page.getByRole('dialog');
    await expect(dialog.getByText('The batteries of 2 cars were checked before the pause.')).toBeVisible();
    await expect(dialog.getByLabel('Battery checks from before the pause')).toHaveValue('keep');
    await clean(page);
    await dialog.getByRole('button', { name: 'Resume the meet' }).click();
    await expect(page.getByText('The meet is paused:')).toBeHidden();
    expect(await checked()).toBe(2);
  });

  await test.step('lunch: all are checked again, and the table says why', async () => {
    await pause(page, 'Lunch');
    await page.getByRole('button', { name: 'Resume the meet' }).click();
    const dialog = page.getByRole('dialog');
    await expect(dialog.getByLabel('Battery checks from before the pause')).toHaveValue('again');
    await dialog.getByRole('button', { name: 'Resume the meet' }).click();
    await expect(page.getByText('The meet is paused:')).toBeHidden();
    expect(await checked()).toBe(0);
    await hall.call(meet, 'junior-1.1.1');
    await expect(page.getByText('measured before the pause of the meet').first()).toBeVisible();
  });
});
