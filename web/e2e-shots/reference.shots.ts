import { expect, test } from '@playwright/test';
import { Hall } from '../e2e/bench-hall';
import { planCompared } from '../e2e/compared-hall';
import { camera } from './shoot';

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });
let hall: Hall;
test.afterEach(() => hall.close());

test('a bench in a reference check, on a phone', async ({ page }) => {
  hall = await Hall.open();
  const shoot = camera(page, 'bench', ['phone']);
  await planCompared(hall, 'spring', 'report');
  const { link } = await hall.phoneFor('b1');
  await hall.ask('POST', '/meets/spring/reference-checks', { cars: ['ref-91', 'ref-92'], race_s: 30 });
  await page.goto(link);
  await expect(page.getByRole('heading', { name: 'Reference check' })).toBeVisible();
  await shoot('reference-next');
  await page.getByRole('button', { name: 'Run car 91 for 30 seconds' }).tap();
  await expect(page.getByRole('heading', { name: 'Reference run: put the car on' })).toBeVisible();
  await shoot('reference-armed');
});
