import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { planTable } from './table-hall';

const meet = 'unread';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await planTable(hall, meet, ['b1', 'b2'], 2);
});
test.afterAll(() => hall.close());

test('while the inspector’s table cannot be read, no car looks ready; then it says what is missing', async ({
  page,
}) => {
  await page.goto(await hall.signIn('official', 'desk'));
  await expect(page.getByText('Signed in as official')).toBeVisible();
  const unread = page.getByText('The inspector’s table has not been read');
  await page.route(`**/api/v1/meets/${meet}/inspection*`, (route) =>
    route.fulfill({
      status: 403,
      contentType: 'application/problem+json',
      json: {
        type: 'about:blank',
        title: 'Forbidden',
        status: 403,
        code: 'not-allowed',
        detail: 'You may not read it.',
      },
    }),
  );
  await page.goto(`${hall.address}/desk/m/${meet}`);
  await expect(unread.first()).toBeVisible();
  await expect(page.getByText('You may not read it.')).toBeVisible();

  await page.unroute(`**/api/v1/meets/${meet}/inspection*`);
  await hall.call(meet, 'junior-1.1.1');
  await expect(unread).toHaveCount(0);
  await expect(page.getByText('You may not read it.')).toHaveCount(0);
  await expect(page.getByText(/No battery is known for this car/).first()).toBeVisible();
});
