import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { drawFirst, raceRound } from './forms-hall';
import { usualRules } from './usual-rules';

test.use({ viewport: { width: 1440, height: 900 } });

// One day: what is called and raced in a test is there in the next.
test.describe.configure({ mode: 'serial', timeout: 120_000 });

const meet = 'spring';
const benches = ['b1', 'b2', 'b3', 'b4'];
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  for (const n of [1, 2, 3, 4])
    await hall.ask('PUT', `/benches/b${n}`, {
      number: n,
      circumference_mm: 94.256,
      circumference_u_mm: n === 1 ? 0.05 : 0.034,
    });
  await hall.ask('POST', '/meets', {
    id: meet,
    plan: {
      name: 'Harbour Hall spring meet',
      place: 'Harbour Hall',
      date: '2027-04-17',
      opens: '09:30',
      closes: '17:15',
    },
    rules: {
      ...usualRules,
      incidents: [{ incident: 'stalled', consequence: 'rerun-lane' }],
    },
  });
  for (const bench of benches) await hall.ask('PUT', `/meets/${meet}/benches/${bench}`);
  const race = { race_s: 10, lanes: 2 };
  await division('timed', 'Juniors', 4, 1, [
    { kind: 'timed-rounds', ...race, lanes: 4, rounds: 2, rule: 'best' },
    { kind: 'knockout', ...race, entries: 4, third_place: true },
  ]);
  await division('knock', 'Seniors', 5, 11, [{ kind: 'knockout', ...race, seeding: 'lot' }]);
  await division('swiss', 'Grown-ups', 0, 0, [{ kind: 'swiss', ...race, rounds: 5, seeding: 'rating', seeds: 4 }]);
  await division('groups', 'Guests', 0, 0, [{ kind: 'groups', ...race, groups: 3, cycles: 2, seeding: 'hand' }]);
});
test.afterAll(() => hall.close());

/** division of some cars from a start number on. */
async function division(id: string, name: string, cars: number, from: number, stages: object[]) {
  await hall.ask('PUT', `/meets/${meet}/divisions/${id}`, {
    name,
    age_from: 0,
    age_to: 0,
    class: { name: 'Open class', lap_m: 3 },
    stages,
  });
  for (let n = from; n < from + cars; n++) {
    const person = {
      name: `Kit ${n}`,
      display_name: `Otter ${n}`,
      say_as: `OT-ter ${n}`,
      on_screen: true,
      in_results: true,
      photo: false,
    };
    await hall.ask('POST', `/meets/${meet}/entries`, { id: `e${n}`, division: id, start_number: n, person });
    await hall.ask('POST', `/meets/${meet}/entries/e${n}/check-in`, { there: true });
  }
}

async function open(page: Page, part = '') {
  await page.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}${part}#`));
  await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1);
}
const desk = (part: string) => `${hall.address}/desk${part}`;
const card = (page: Page, name: string) =>
  page.getByRole('listitem').filter({ has: page.getByRole('heading', { level: 3, name, exact: true }) });

test('the plan shows what was chosen, and benches as they were entered', async ({ page }) => {
  await open(page, '/plan');
  await expect(page.getByText('17 April 2027, Harbour Hall, hall opens at 09:30, keys go back at 17:15')).toBeVisible();
  for (const [name, ...lines] of [
    [
      'Juniors',
      '2 timed rounds, 10 seconds a run, up to 4 cars in a heat, best run counts',
      'Knockout, 10 seconds a run, the best 4, with a race for third place',
    ],
    ['Seniors', 'Knockout, 10 seconds a run, seeded by lot'],
    ['Grown-ups', '5 Swiss rounds, 10 seconds a run, seeded by rating, only the first 4 seeded, the others by lot'],
    ['Guests', '3 groups, 10 seconds a run, each two meet twice, seeded by hand'],
  ] as const)
    for (const line of lines) await expect(card(page, name)).toContainText(line);
  const row = page.getByRole('table', { name: 'Benches of this meet' }).getByRole('row').nth(2);
  await expect(row).toContainText(/94\.256 mm\s*standard uncertainty 0\.034 mm/);
  await clean(page);
  // The meet goes on with what it copied, until somebody copies again.
  await hall.ask('PUT', '/benches/b4', { number: 4, circumference_mm: 94.3, circumference_u_mm: 0.02 });
  const fourth = page.getByRole('table', { name: 'Benches of this meet' }).getByRole('row').nth(4);
  await page.reload();
  await expect(fourth).toContainText(
    /94\.256 mm.*the club has another since \d\d:\d\d \(94\.3 mm, standard uncertainty 0\.02 mm, 1 mark\): copy/,
  );
  await fourth.getByRole('button', { name: 'Copy settings again: bench 4' }).click();
  await expect(fourth).toContainText('94.3 mm');
  await expect(fourth).not.toContainText('the club has another');
  await page.goto(desk('/benches'));
  await expect(page.getByRole('row').nth(1)).toContainText(/94\.256 mm\s*standard uncertainty 0\.05 mm/);
  await expect(page.getByText('±')).toHaveCount(0);
  await clean(page);
});

test('rules are fields until the first call; then they are words, and why', async ({ page }) => {
  await open(page, '/plan');
  const field = page.getByLabel('Minutes to come to the bench');
  await expect(field).toHaveValue('2');
  await drawFirst(hall, meet, 'timed');
  await expect(field).toBeEditable();
  await hall.call(meet, 'timed-1.1.1');
  await expect(page.getByText(/^The rules are fixed: a heat was called/)).toBeVisible();
  await expect(field).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Save the rules' })).toHaveCount(0);
  const says = (term: string) =>
    page.getByRole('term').filter({ hasText: term }).locator('xpath=following-sibling::dd');
  for (const [term, words] of [
    ['Minutes to come to the bench', '2'],
    ['Minutes for a protest', '10'],
    ['Races that everybody is promised', 'No promise'],
    ['Equal results at a prize or qualifying line', 'The next-best run decides'],
    ['Stall', 'Re-run the lane'],
    ['False start', 'No rule: decide on the day'],
  ] as const)
    await expect(says(term)).toHaveText(words);
  await clean(page);
});

test('in the dialog that closes the entries, “Close” means one thing', async ({ page }) => {
  await open(page, '/entries');
  await page.getByRole('button', { name: 'Close entries: Seniors' }).click();
  const dialog = page.getByRole('dialog');
  await expect(dialog.getByRole('button')).toHaveText(['Back', 'Close entries', 'Cancel']);
});

test('“Now” has the hours, how to say a called name, and who goes on without a race', async ({ page }) => {
  await drawFirst(hall, meet, 'knock');
  await open(page);
  await expect(page.getByText('hall opens at 09:30, keys go back at 17:15')).toBeVisible();
  const called = page.getByRole('table', { name: 'Juniors: Round 1, heat 1' });
  await expect(called.getByRole('rowheader', { name: /3 Otter 3/ })).toContainText('say “OT-ter 3”');
  const byes = page.getByText('Seniors: Quarter-finals: go on without a race').locator('xpath=..');
  await expect(byes.getByText(/^Otter 1\d$/)).toHaveCount(3);
  await expect(page.getByText('called: Juniors: Round 1, heat 1')).toHaveCount(4);
  await clean(page);
});

test('the public call list says who goes on without a race, and each new call once', async ({ page }) => {
  await page.goto(`${hall.address}/m/${meet}`);
  const called = page.getByRole('region', { name: 'Come to your bench' });
  await expect(called.getByText('Otter 3')).toBeVisible();
  const byes = page.getByText('Seniors: Quarter-finals: go on without a race').locator('xpath=..');
  await expect(byes.getByText(/^Otter 1\d$/)).toHaveCount(3);
  await clean(page);
  // Every text that a screen reader is told of, in order.
  await page.evaluate(() => {
    const heard: string[] = [];
    Object.assign(window, { heard });
    new MutationObserver((changes) => {
      for (const { target } of changes) {
        const region = (target instanceof Element ? target : target.parentElement)?.closest('[role=status]');
        if (region?.textContent) heard.push(region.textContent);
      }
    }).observe(document.body, { childList: true, subtree: true, characterData: true });
  });
  const heard = () => page.evaluate(() => (window as unknown as { heard: string[] }).heard);
  await hall.ask('POST', `/meets/${meet}/heats/timed-1.1.1/call-off`, { reason: { code: 'volunteer-error' } });
  await expect(called.getByText('Otter 3')).toHaveCount(0);
  const lanes = await hall.call(meet, 'knock-1.1.1');
  const numbers = Object.values(lanes).map((lane) => lane.racer.start_number);
  await expect(called.getByText(`Otter ${numbers[0]}`)).toBeVisible();
  await expect.poll(heard).toHaveLength(1);
  expect((await heard())[0]).toMatch(/^Come to your bench: Seniors: Quarter-final 1; /);
  for (const number of numbers) expect((await heard())[0]).toMatch(new RegExp(`${number} Otter ${number}, Bench \\d`));
  // Further frames of the same call say nothing again.
  for (const [bench, lane] of Object.entries(lanes))
    await hall.ready(meet, 'knock-1.1.1', bench, lane.racer.start_number);
  await expect(called.getByText('✓ ready')).toHaveCount(2);
  expect(await heard()).toHaveLength(1);
  await hall.ask('POST', `/meets/${meet}/heats/knock-1.1.1/call-off`, { reason: { code: 'volunteer-error' } });
});

test('a result far from what cars run is marked in the standings of desk and public, until it is ruled on', async ({
  page,
}) => {
  const heat = 'timed-1.1.1';
  const lanes = await hall.call(meet, heat);
  for (const [bench, lane] of Object.entries(lanes)) await hall.ready(meet, heat, bench, lane.racer.start_number);
  await hall.start(meet, heat);
  // Three cars that run alike, and one four times as far; it was counted first, when nothing was usual.
  for (const [entry, distance_m] of [
    ['e2', 60],
    ['e1', 15],
    ['e3', 14.6],
    ['e4', 15.4],
  ] as const)
    await hall.ask('POST', `/meets/${meet}/heats/${heat}/hand-count`, { entry, distance_m, u_distance_m: 0.5 });
  const mark = 'Far from what cars run here: an official looks at it first.';
  await page.goto(`${hall.address}/m/${meet}/standings/timed`);
  await expect(page.getByRole('row', { name: /2 Otter 2/ })).toContainText(mark);
  await expect(page.getByText(mark)).toHaveCount(1);
  await clean(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await expect(page.getByText(mark)).toBeVisible();
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await page.setViewportSize({ width: 1440, height: 900 });
  const official = await page.context().newPage();
  await official.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}/programme/timed#`));
  await expect(
    official.getByRole('table', { name: 'Standings' }).getByRole('row', { name: /2 Otter 2/ }),
  ).toContainText(mark);
  // On a phone of the desk all of the table is on the page, and the mark under the name.
  await official.setViewportSize({ width: 360, height: 740 });
  await expect(official.getByText(mark)).toBeVisible();
  const beyond = await official
    .getByRole('table', { name: 'Standings' })
    .locator('th, td')
    .evaluateAll((cells) => cells.filter((cell) => cell.getBoundingClientRect().right > innerWidth).length);
  expect(beyond, 'cells of the standings that only scrolling shows').toBe(0);
  const wall = await page.context().newPage();
  await wall.setViewportSize({ width: 1920, height: 1080 });
  await wall.goto(`${hall.address}/m/${meet}`);
  await expect(wall.getByRole('listitem').filter({ hasText: mark })).toContainText('Otter 2', { timeout: 45_000 });
  await hall.ask('POST', `/meets/${meet}/rulings`, {
    kind: 'correct-hand-count',
    run: await runOf('e2'),
    distance_m: 15.2,
    u_distance_m: 0.5,
    reason: { code: 'volunteer-error' },
  });
  for (const each of [page, official, wall]) await expect(each.getByText(mark)).toHaveCount(0);
});

const runOf = async (entry: string) => {
  const { runs } = await hall.ask<{ runs: { id: string; racer?: { entry: string } }[] }>('GET', `/meets/${meet}/runs`);
  return runs.find((run) => run.racer?.entry === entry)!.id;
};

test('the card of the next round names it, and since when it can be drawn', async ({ page }) => {
  await raceRound(hall, meet, 'knock');
  await open(page);
  const next = page
    .getByRole('article')
    .filter({ has: page.getByRole('heading', { name: 'The next round can be drawn' }) })
    .filter({ hasText: 'Seniors' });
  await expect(next).toContainText('Seniors: Semi-finals');
  const log = await (await page.request.get(`${hall.address}/api/v1/meets/${meet}/log`)).text();
  const closed = log.split('\n').findLast((line) => line.includes('"RoundClosed"'))!;
  const { decisions } = await hall.ask<{ decisions: { kind: string; division?: string; since?: string }[] }>(
    'GET',
    `/meets/${meet}/decisions`,
  );
  const { since } = decisions.find((one) => one.kind === 'draw-round' && one.division === 'knock')!;
  expect(Date.parse(since!)).toBe(Math.floor(Number(/"time":(\d+)/.exec(closed)![1]) / 1000));
  const time = await page.evaluate(
    (at) => new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' }).format(new Date(at)),
    since!,
  );
  await expect(next).toContainText(`since ${time}`);
});

interface Found {
  racer?: { start_number: number; display_name: string };
  bench_number?: number;
}

test('runs, and the lanes that a run can be given to, are found by number, name, bench and heat', async ({ page }) => {
  await open(page, '/rulings');
  const runs = page.getByRole('table', { name: 'Runs' }).getByRole('row');
  await expect(runs).toHaveCount(1 + 6);
  const search = page.getByRole('searchbox', { name: 'Search' });
  await search.fill('otter 2');
  await expect(runs).toHaveCount(1 + 1);
  await expect(runs.nth(1)).toContainText('Juniors: Round 1, heat 1, 2 Otter 2');
  // A number is meant in full, of a car or of a bench: 1 is not 11 to 15.
  const found = (await hall.ask<{ runs: Found[] }>('GET', `/meets/${meet}/runs`)).runs.filter(
    (run) => run.racer?.start_number === 1 || run.bench_number === 1,
  );
  await search.fill('1');
  await expect(runs).toHaveCount(1 + found.length);
  for (const run of found)
    await expect(runs.filter({ has: page.getByText(run.racer!.display_name, { exact: true }) })).toHaveCount(1);
  await search.fill('nobody');
  await expect(page.getByText('No such run.')).toBeVisible();
  await clean(page);

  await search.fill('otter 2');
  await runs.getByRole('button', { name: /^Rule: / }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Ruling', { exact: true }).selectOption('Reassign a run');
  const lanes = dialog.getByLabel('Counts for', { exact: true }).locator('option[value]:not([value=""])');
  await expect(lanes).toHaveCount(4 + 2);
  await dialog.getByRole('searchbox', { name: 'Search' }).fill('quarter');
  // The lane that is chosen stays among them.
  await expect(lanes).toHaveText([
    /Seniors: Quarter-final 1/,
    /Seniors: Quarter-final 1/,
    'Juniors: Round 1, heat 1: 2 Otter 2',
  ]);
  await dialog.getByRole('searchbox', { name: 'Search' }).fill('4');
  await expect(lanes.filter({ hasText: '4 Otter 4' })).toHaveCount(1);
  await expect(dialog.getByText(/ lanes? below\.$/)).toBeVisible();
  await clean(page);
});

test('what is wrong stands at its field, is said, has the focus, and goes while it is put right', async ({ page }) => {
  /** wrong presses a button, and looks at the field that it is about. */
  async function wrong(
    button: string,
    label: string,
    says: RegExp | string,
    right: string,
    at = page.getByRole('main'),
  ) {
    await at.getByRole('button', { name: button, exact: true }).click();
    const field = at.getByLabel(label, { exact: true });
    await expect(field).toHaveAttribute('aria-invalid', 'true');
    await expect(field).toHaveAccessibleDescription(says);
    await expect(field).toBeFocused();
    await expect(at.getByRole('alert').filter({ hasText: says })).toHaveCount(1);
    await field.fill(right);
    await expect(field).not.toHaveAttribute('aria-invalid');
    await expect(at.getByRole('alert').filter({ hasText: says })).toHaveCount(0);
  }
  await page.goto(desk(''));
  await wrong('Sign in', 'Key, or the whole link', 'Fill this in.', 'no-such-key');
  await wrong('Sign in', 'Key, or the whole link', /\w/, 'another');
  await open(page, '/entries');
  await wrong('Check in', 'Start number', /Fill this in\.$/, '99');
  await wrong('Check in', 'Start number', /Nobody has start number 99\.$/, '1');
  await page.getByRole('button', { name: 'Check in', exact: true }).click();
  await expect(page.getByText('1 Otter 1 was checked in already.')).toBeVisible();
  await clean(page);
  await page.goto(desk(`/m/${meet}/inspection`));
  const find = page.getByRole('form', { name: 'Find a car' });
  await wrong('Show', 'Start number', 'Fill this in.', '99', find);
  await wrong('Show', 'Start number', 'No entry has start number 99.', '1', find);
  await find.getByRole('button', { name: 'Show' }).click();
  await expect(page.getByRole('heading', { level: 2, name: /Otter 1/ })).toBeVisible();
  await page.goto(desk(`/m/${meet}/entries/table`));
  const paste = page.getByLabel('Paste the list');
  await page.getByLabel('Or a CSV file').setInputFiles({
    name: 'large.csv',
    mimeType: 'text/csv',
    buffer: Buffer.alloc(400_000, 'a'),
  });
  const file = page.getByLabel('Or a CSV file');
  await expect(file).toHaveAttribute('aria-invalid', 'true');
  await expect(file).toBeFocused();
  await paste.fill('Name\nKit Walnut');
  await expect(file).not.toHaveAttribute('aria-invalid');
});

test('a plate is printed in one ink, on public pages and on paper of the desk', async ({ page }) => {
  const inks = (of: string) =>
    page
      .locator(of)
      .first()
      .evaluate((sheet) => {
        const style = getComputedStyle(sheet);
        return [...Array(8).keys()].map(
          (n) => style.getPropertyValue(`--bench-${n + 1}`) === style.getPropertyValue('--ink'),
        );
      });
  await open(page, '/paper/start-list');
  const paper = page.locator('.printed').first();
  await expect(paper).toBeVisible();
  expect(await inks('.printed')).toContain(false);
  await page.emulateMedia({ media: 'print' });
  expect(await inks('.printed')).toEqual(Array(8).fill(true));
  await page.emulateMedia({ media: null });
  await page.goto(`${hall.address}/m/${meet}/standings/timed`);
  await expect(page.getByRole('table')).toBeVisible();
  expect(await inks('.sheet')).toContain(false);
  await page.emulateMedia({ media: 'print' });
  expect(await inks('.sheet')).toEqual(Array(8).fill(true));
});
