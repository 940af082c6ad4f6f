import { expect, test } from '@playwright/test';
import { Hall } from '../e2e/bench-hall';
import { drawFirst, drawNext, planForms, raceHeat, raceRound } from '../e2e/forms-hall';
import { camera } from './shoot';

let hall: Hall;
test.afterEach(() => hall.close());

test('forms of competition: plan, programme and screen', async ({ page }) => {
  hall = await Hall.open();
  const desk = camera(page, 'desk', ['desktop', 'phone']);
  const screen = camera(page, 'screen', ['desktop', 'phone', 'hall']);
  await planForms(hall, 'winter');
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  const programme = async (division: string, name: string) => {
    await page.goto(`${hall.address}/desk/m/winter/programme/${division}`);
    await expect(page.getByRole('table').first()).toBeVisible();
    await desk(name);
  };
  const rounds = async (division: string, name: string) => {
    await page.goto(`${hall.address}/m/winter/bracket/${division}`);
    await expect(page.getByRole('heading', { level: 2 }).first()).toBeVisible();
    await screen(name);
  };

  await page.goto(`${hall.address}/desk/m/winter/plan`);
  await expect(page.getByText('sure of').first()).toBeVisible();
  await desk('plan-forms');
  for (const name of ['Heats 6 to 8', 'Design 9 to 10', 'Plate 11 to 12']) {
    await page.getByRole('button', { name: `Change ${name}` }).click();
    await page.getByLabel('Form', { exact: true }).scrollIntoViewIfNeeded();
    await desk(`division-${name.split(' ')[0]!.toLowerCase()}-dialog`);
    await page.keyboard.press('Escape');
  }

  await drawFirst(hall, 'winter', 'heats');
  await programme('heats', 'programme-heats-drawn');
  await rounds('heats', 'rounds-heats');
  await raceRound(hall, 'winter', 'heats');
  await drawNext(hall, 'winter', 'heats');
  await raceRound(hall, 'winter', 'heats');
  await programme('heats', 'programme-heats-through');
  await page.goto(`${hall.address}/m/winter/standings/heats`);
  await expect(page.getByRole('table')).toBeVisible();
  await screen('standings-heats');

  await drawFirst(hall, 'winter', 'design');
  await programme('design', 'programme-design');
  await raceRound(hall, 'winter', 'design', () => 250);
  await programme('design', 'programme-points');

  await drawFirst(hall, 'winter', 'plate');
  for (let round = 0; round < 3; round++) {
    await raceRound(hall, 'winter', 'plate');
    await drawNext(hall, 'winter', 'plate');
  }
  await programme('plate', 'programme-plate');
  await rounds('plate', 'rounds-plate');
  await page.goto(`${hall.address}/m/winter/standings/plate`);
  await expect(page.getByRole('table')).toBeVisible();
  await screen('standings-plate');

  await drawFirst(hall, 'winter', 'legs');
  const first = 'legs-1.1.1';
  await raceHeat(hall, 'winter', first);
  await raceHeat(hall, 'winter', `${first}.2`, (n) => 200 + n);
  await programme('legs', 'programme-legs');
  await rounds('legs', 'rounds-legs');
});
