import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';

let hall: Hall;
const meet = 'spring';
test.beforeAll(async () => {
  test.setTimeout(180_000);
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3, 4);
  await hall.ask('POST', '/meets', {
    id: meet,
    plan: {
      name: 'Harbour Hall spring meet',
      place: 'Harbour Hall',
      date: '2027-04-17',
      opens: '10:00',
      closes: '17:00',
    },
  });
  for (const n of [1, 2, 3, 4]) await hall.ask('PUT', `/meets/${meet}/benches/b${n}`);
  await hall.ask('PUT', `/meets/${meet}/divisions/junior`, {
    name: 'Juniors 6 to 10',
    age_from: 6,
    age_to: 10,
    class: { name: 'Two-cell open class', lap_m: 3, mass_max_g: 250 },
    stages: [{ kind: 'timed-rounds', race_s: 60, lanes: 4, rounds: 2, rule: 'best' }],
  });
  for (let n = 1; n <= 12; n++) {
    const person = {
      name: `Kit ${n}`,
      display_name: `Otter ${n}`,
      birth_date: '2019-05-02',
      on_screen: true,
      in_results: true,
      photo: false,
    };
    await hall.ask('POST', `/meets/${meet}/entries`, { id: `e${n}`, division: 'junior', start_number: n, person });
  }
});
test.afterAll(() => hall.close());

interface Meet {
  divisions: { id: string; name: string; age_to: number; class: object; stages: { kind: string }[] }[];
}
const junior = async () => (await hall.ask<Meet>('GET', `/meets/${meet}`)).divisions[0]!;

test('programmes are compared before the draw, and one press takes one up', async ({ page }) => {
  test.setTimeout(120_000);
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}/programme#`));
  await page.getByRole('button', { name: 'Look at other programmes' }).click();
  await page.getByRole('button', { name: 'Compare programmes' }).click();
  const table = page.getByRole('table', { name: 'Programmes compared' });
  await expect(table).toBeVisible({ timeout: 60_000 });
  const row = (name: string) => table.getByRole('row').filter({ has: page.getByRole('rowheader', { name }) });
  await expect(row('As planned')).toContainText('as planned now');
  await expect(row('As planned')).toContainText(/2\.0 on average, 2 at least/);
  // Half of twelve cars are beaten in the first race of a knockout.
  await expect(row('Knockout').filter({ hasText: 'Advised against' }).first()).toContainText(
    'somebody goes home after one race',
  );
  const swiss = row('Swiss rounds');
  await expect(swiss).not.toContainText('Advised against');
  await expect(swiss).toContainText(/of ten pairs of cars, \d+ stand in the right order/);
  await expect(table.getByRole('columnheader', { name: /^Over after \d\d:\d\d$/ })).toBeVisible();
  await expect(page.getByRole('slider', { name: /When it ends/ })).toBeVisible();
  await clean(page);
  await page.setViewportSize({ width: 360, height: 740 });
  await clean(page);
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  await page.setViewportSize({ width: 1280, height: 800 });

  const before = await junior();
  await swiss.getByRole('button', { name: 'Take it up: Swiss rounds' }).press('Enter');
  const dialog = page.getByRole('dialog');
  await expect(dialog).toContainText('Juniors 6 to 10');
  await clean(page);
  await dialog.getByRole('button', { name: 'Take it up' }).press('Enter');
  await expect(page.getByText('The programme is “Swiss rounds” now.')).toBeVisible();
  const after = await junior();
  expect(after.stages.map((stage) => stage.kind)).toEqual(['swiss']);
  expect([after.name, after.age_to, after.class]).toEqual([before.name, before.age_to, before.class]);
});
