import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { usualRules } from './usual-rules';

test.describe.configure({ mode: 'serial' });

const meet = 'short';
const names = ['Lantern', 'Puffin', 'Turbot', 'Nutmeg', 'Zigzag', 'Otter'];
const why = { code: 'bench-fault' };
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3);
  await hall.ask('POST', '/meets', {
    id: meet,
    plan: { name: 'Harbour Hall autumn meet', place: 'Harbour Hall', date: '2027-10-02' },
    rules: {
      ...usualRules,
      call_s: 600,
    },
  });
  for (const bench of ['b1', 'b2', 'b3']) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  await hall.ask('PUT', `/meets/${meet}/divisions/junior`, {
    name: 'Juniors 6 to 10',
    age_from: 6,
    age_to: 10,
    class: { name: 'Two-cell open class', lap_m: 3, cells: 2 },
    stages: [{ kind: 'timed-rounds', rounds: 2, race_s: 4, lanes: 3, rule: 'sum' }],
  });
  for (const [i, name] of names.entries()) {
    const person = { name: `Kit ${name}`, display_name: name, birth_date: '2019-05-02', on_screen: true };
    await hall.ask('POST', `/meets/${meet}/entries`, {
      id: `e${i + 1}`,
      division: 'junior',
      start_number: i + 1,
      person: { ...person, in_results: true, photo: false },
    });
    await hall.ask('POST', `/meets/${meet}/entries/e${i + 1}/check-in`, { there: true });
  }
  await hall.ask('POST', `/meets/${meet}/divisions/junior/entries-closed`, { closed: true });
  await hall.ask('POST', `/meets/${meet}/divisions/junior/draw`);
});
test.afterAll(() => hall.close());

interface Lane {
  racer: { entry: string; start_number: number };
  state: string;
  bench?: string;
  bench_out?: boolean;
}
interface Heat {
  id: string;
  phase: string;
  lanes: Lane[];
}
const heats = async () => (await hall.ask<{ heats: Heat[] }>('GET', `/meets/${meet}/heats`)).heats;
const heatOf = async (id: string) => (await heats()).find((h) => h.id === id)!;
const service = (bench: string, out: boolean) =>
  hall.ask('POST', `/meets/${meet}/benches/${bench}/service`, out ? { out, reason: why } : { out });

/** count starts a called heat and counts every car of it by hand: 40 m and its number. */
async function count(id: string): Promise<void> {
  for (const l of (await heatOf(id)).lanes) {
    if (l.state === 'called') await hall.ready(meet, id, l.bench!, l.racer.start_number);
  }
  await hall.start(meet, id);
  for (const l of (await heatOf(id)).lanes) {
    if (l.state !== 'racing') continue;
    await hall.ask('POST', `/meets/${meet}/heats/${id}/hand-count`, {
      entry: l.racer.entry,
      distance_m: 40 + l.racer.start_number,
      u_distance_m: 0.9,
    });
  }
}

async function open(page: Page): Promise<void> {
  await page.goto(await hall.signIn('organiser', 'desk'));
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/${meet}`);
}

const card = (page: Page, title: string) => page.locator('article').filter({ has: page.getByText(title) });
const gone = 'A heat has more cars than benches are left';

test('a heat is raced short when a bench has died, and its last car races after the others', async ({ page }) => {
  await service('b3', true);
  await open(page);
  const asks = card(page, gone);
  await expect(asks.getByText('3 cars have to race, and 2 benches are in service.')).toBeVisible();
  await expect(asks.getByRole('button', { name: 'Draw again what is not raced' })).toBeVisible();
  await clean(page);
  await asks.getByRole('button', { name: /^Race it short: / }).click();
  await expect.poll(async () => (await heatOf('junior-1.1.1')).phase).toBe('called');
  const states = (await heatOf('junior-1.1.1')).lanes.map((l) => l.state).sort();
  expect(states).toEqual(['called', 'called', 'waiting']);
  await expect(page.getByText('left over, called next')).toBeVisible();
  await expect(page.getByText('called: Juniors 6 to 10: Round 1, heat 1')).toHaveCount(2);

  await test.step('what is below a finished heat, and what is above it, stays under the pointer', async () => {
    const call = page.getByRole('button', { name: 'Call: Juniors 6 to 10: Round 1, heat 2' });
    await call.hover();
    const before = await call.boundingBox();
    await count('junior-1.1.1');
    await expect(page.getByRole('button', { name: 'Call: Juniors 6 to 10: Round 1, heat 1' })).toBeVisible();
    expect(await call.boundingBox()).toEqual(before);
  });

  await test.step('the car that was left over', async () => {
    await page.getByRole('button', { name: 'Call: Juniors 6 to 10: Round 1, heat 1' }).click();
    await expect.poll(async () => (await heatOf('junior-1.1.1')).phase).toBe('called');
    await count('junior-1.1.1');
    const done = await heatOf('junior-1.1.1');
    expect(done.phase).toBe('provisional');
    expect(done.lanes.map((l) => [l.state, 'status' in l])).toEqual(Array(3).fill(['done', false]));
  });
});

test('the rest is drawn again for the benches that are left, and a car whose bench dies is left over', async ({
  page,
}) => {
  await open(page);
  await card(page, gone).getByRole('button', { name: 'Draw again what is not raced' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: 'Draw again what is not raced' }).click();
  await expect(dialog).toBeHidden();
  await expect(card(page, gone)).toHaveCount(0);
  const rest = (await heats()).filter((h) => h.phase === 'drawn');
  expect(rest.map((h) => h.lanes.length).sort()).toEqual([1, 2]);

  const two = rest.find((h) => h.lanes.length === 2)!;
  await hall.call(meet, two.id);
  const [lane] = (await heatOf(two.id)).lanes;
  await hall.ready(meet, two.id, lane!.bench!, lane!.racer.start_number);
  await service(lane!.bench!, true);
  await expect(page.getByText('the bench is out of service').first()).toBeVisible();
  expect((await heatOf(two.id)).lanes[0]).toMatchObject({ state: 'called', bench_out: true });
  await page.getByRole('button', { name: /^Leave it over: / }).click();
  await expect.poll(async () => (await heatOf(two.id)).lanes[0]!.state).toBe('waiting');
  await count(two.id);
  for (const bench of ['b1', 'b2', 'b3']) await service(bench, false);
  for (const h of (await heats()).filter((each) => each.phase === 'drawn')) {
    await hall.call(meet, h.id);
    await count(h.id);
  }
  const { runs } = await hall.ask<{ runs: { racer: { entry: string } }[] }>('GET', `/meets/${meet}/runs`);
  expect(runs.map((r) => r.racer.entry).sort()).toEqual(names.map((_, i) => `e${i + 1}`));
});

test('the next round does not wait for protests, and a mistyped count is put right', async ({ page }) => {
  await open(page);
  await expect(page.getByText('Juniors 6 to 10: Round 2')).toBeVisible();
  await page.getByRole('button', { name: 'Draw the next round: Juniors 6 to 10' }).click();
  await expect.poll(async () => (await heats()).filter((h) => h.id.startsWith('junior-1.2.')).length).toBe(2);

  await page
    .getByRole('button', { name: /^Rule: 6 Otter, / })
    .first()
    .click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Ruling').selectOption({ label: 'Correct the hand count' });
  await dialog.getByLabel('Distance in m').fill('455');
  await dialog.getByLabel('Standard uncertainty in m').fill('0.9');
  await dialog.getByRole('button', { name: 'Make this ruling' }).click();
  await expect(dialog.getByText('455.0 m is far from what cars run here')).toBeVisible();
  await dialog.getByLabel('Distance in m').fill('45.5');
  await dialog.getByRole('button', { name: 'Make this ruling' }).click();
  await expect(dialog).toBeHidden();
  await page.goto(`${hall.address}/desk/m/${meet}/rulings`);
  await expect(page.getByText('Hand count corrected: 46.00 m was said, 45.50 m it is')).toBeVisible();
  await clean(page);
});

test('paused, a call stands still and nothing can be called; the desk has a clock', async ({ page }) => {
  await hall.call(meet, 'junior-1.2.1');
  await hall.ask('POST', `/meets/${meet}/pause`, { reason: { code: 'lunch' } });
  await open(page);
  const due = page.getByText(/due in \d+:\d\d, stands still/);
  const said = await due.textContent();
  await page.waitForTimeout(2500);
  expect(await due.textContent()).toBe(said);
  await expect(page.getByRole('button', { name: /^Call: / }).first()).toBeDisabled();
  await expect(page.getByRole('button', { name: /^Start: / })).toBeDisabled();
  await expect(page.locator('.clock')).toHaveText(/\d\d:\d\d/);
});
