import { expect, test } from '@playwright/test';
import { Hall } from '../e2e/bench-hall';
import { raceHeat } from '../e2e/forms-hall';
import { planPaper } from '../e2e/paper-hall';
import { camera } from './shoot';

let hall: Hall;
test.afterEach(() => hall.close());

test('prints of the desk, the cover, and the drill on a phone', async ({ page }) => {
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3, 4, 5, 6);
  await planPaper(hall, 'spring', 10);
  const shoot = camera(page, 'desk', ['desktop', 'phone']);
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible({ timeout: 30_000 });
  const at = async (path: string) => {
    await page.goto(`${hall.address}/desk/m/spring${path}`);
    await expect(page.getByRole('heading', { level: 1 }).first()).toBeVisible({ timeout: 30_000 });
  };
  await at('/paper');
  await expect(page.getByText('Drawn, and not printed from this desk')).toBeVisible({ timeout: 30_000 });
  await shoot('paper');
  await raceHeat(hall, 'spring', 'junior-1.1.1');
  for (const sheet of [
    'kit',
    'start-list',
    'roll-call',
    'results',
    'certificates',
    'evening',
    'plates',
    'cards',
    'pictures',
  ]) {
    await at(`/paper/${sheet}`);
    await expect(page.locator('.printed').first()).toBeVisible({ timeout: 30_000 });
    await shoot(`paper-${sheet}`, sheet === 'kit' || sheet === 'evening' ? ['desktop', 'phone'] : ['desktop']);
  }
  await at('/entries');
  await expect(page.getByText('say-1-so')).toBeVisible({ timeout: 30_000 });
  await page.keyboard.press('F8');
  await expect(
    page.getByRole('button', { name: 'Check in: 1' }).or(page.getByText('checked in')).first(),
  ).toBeVisible();
  await shoot('covered');

  await page.goto(`${hall.address}/bench/b1`);
  await page.getByRole('button', { name: 'Try this page with a pretend car' }).click({ timeout: 30_000 });
  await expect(page.getByRole('region', { name: 'Drill' })).toBeVisible({ timeout: 30_000 });
  await camera(page, 'bench', ['phone'])('drill');
});
