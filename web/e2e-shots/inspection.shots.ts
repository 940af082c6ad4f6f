import { expect, test } from '@playwright/test';
import { Hall } from '../e2e/bench-hall';
import { inspect, measure, planTable } from '../e2e/table-hall';
import { camera } from './shoot';

let hall: Hall;
test.afterEach(() => hall.close());

test('the inspector’s table, on a laptop and a phone, and what a bench makes of it', async ({ page }) => {
  hall = await Hall.open();
  const meet = 'winter';
  await hall.addBenches(1, 2, 3, 4);
  await planTable(hall, meet, ['b1', 'b2'], 6);
  for (const bench of ['b3', 'b4']) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  await hall.ask('POST', `/meets/${meet}/packs`, { packs: ['C1', 'C2', 'C3', 'C4', 'C5', 'C6'] });
  for (const [i, volts] of [3.21, 3.2, 3.22, 3.19, 3.26].entries())
    await measure(hall, meet, `C${i + 1}`, volts, { division: 'junior' });
  await hall.ask('POST', `/meets/${meet}/packs/C6/check`, {
    division: 'junior',
    chemistry: 'alkaline',
    cells: 2,
    open_v: 0,
    hurt: true,
  });
  await inspect(hall, meet, 'e7');
  await measure(hall, meet, 'L1', 3.24, { entry: 'e7' });
  await inspect(hall, meet, 'e8', 191);
  await measure(hall, meet, 'P1', 2.31, { entry: 'e8' });
  await inspect(hall, meet, 'e9');
  await hall.ask('POST', `/meets/${meet}/packs/C5/issue`, { entry: 'e9' });
  await hall.ask('POST', `/meets/${meet}/packs/deal`, {
    heats: ['junior-1.1.2', 'junior-1.1.3'],
    race_ma: 1000,
    spread_mv: 60,
    spread_mohm: 80,
  });

  const shoot = camera(page, 'desk', ['desktop', 'phone']);
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  const at = (path: string) => page.goto(`${hall.address}/desk/m/${meet}${path}`);
  await at('/inspection');
  await expect(page.getByRole('rowheader').first()).toBeVisible();
  await shoot('inspection');
  for (const [number, name] of [
    [7, 'passed'],
    [8, 'to-put-right'],
    [10, 'not-seen'],
  ] as const) {
    await at(`/inspection/${number}`);
    await expect(page.getByRole('heading', { name: 'Measure a battery' })).toBeVisible();
    await shoot(`inspection-${name}`);
  }
  await at('/batteries');
  await expect(page.getByText('1 pack is out')).toBeVisible();
  await expect(page.getByRole('figure')).toBeVisible();
  await shoot('batteries');
  await hall.call(meet, 'junior-1.1.1');
  await hall.call(meet, 'junior-1.1.2');
  await at('');
  await expect(page.getByText(/to the battery table first|Take another one/).first()).toBeVisible();
  await shoot('now-held');
  await page.goto(`${hall.address}/m/${meet}`);
  await expect(page.getByRole('heading', { name: 'Come to your bench' })).toBeVisible();
  await camera(page, 'screen', ['hall', 'phone'])('called-with-packs');

  const bench = camera(page, 'bench', ['phone']);
  for (const name of ['b1', 'b3']) {
    const { link } = await hall.phoneFor(name);
    await page.goto(link);
    await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
    await bench(`called-table-${name}`);
  }
});
