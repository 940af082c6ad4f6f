import { expect, test, type Page } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

test.use({ viewport: { width: 1280, height: 800 } });
test.describe.configure({ mode: 'serial' });

const raceS = 2;
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3);
});
test.afterAll(() => hall.close());

/** race calls a heat and has it raced; the car with the higher number is the quicker. */
async function race(meet: string, heat: string) {
  const lanes = await hall.call(meet, heat);
  for (const [bench, lane] of Object.entries(lanes)) await hall.ready(meet, heat, bench, lane.racer.start_number);
  await hall.start(meet, heat);
  for (const [bench, lane] of Object.entries(lanes)) {
    await new CounterBox(hall, bench, meet).run(lane.armed!, raceS, 6000 + 100 * lane.racer.start_number);
  }
  return Object.values(lanes);
}

async function open(page: Page, path: string) {
  await page.goto(await hall.signIn('organiser', 'laptop'));
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await expect(page).toHaveURL(/\/desk$/); // the token is gone from the address
  await page.goto(`${hall.address}/desk/m/${path}`);
}

const dialog = (page: Page) => page.getByRole('dialog');

test('rulings on lanes: swapped, reassigned, did not finish and lifted, void', async ({ page }) => {
  test.setTimeout(90_000);
  await hall.planMeet('lanes', ['b1', 'b2'], 4, raceS);
  const [one, two] = await race('lanes', 'junior-1.1.1');
  await open(page, 'lanes');
  const first = 'Juniors 6 to 10: Round 1, heat 1';
  const rule = async (number: number, kind: string) => {
    await page.getByRole('button', { name: new RegExp(`^Rule: ${number} .*heat 1$`) }).click();
    await dialog(page).getByLabel('Ruling', { exact: true }).selectOption(kind);
  };
  const row = (number: number) =>
    page
      .getByRole('row')
      .filter({ hasText: `Start number ${number}` })
      .first();

  await rule(one!.racer.start_number, 'Swap two lanes');
  await dialog(page).getByLabel('Swap with').selectOption({ index: 1 });
  await clean(page);
  await dialog(page).getByRole('button', { name: 'Make this ruling' }).click();
  await expect(dialog(page)).toHaveCount(0);
  const [quick, slow] = one!.racer.start_number > two!.racer.start_number ? [one!, two!] : [two!, one!];
  await expect(row(slow.racer.start_number)).toContainText('1st');

  await rule(quick.racer.start_number, 'Did not finish');
  await dialog(page).getByRole('button', { name: 'Make this ruling' }).click();
  await expect(row(quick.racer.start_number)).toContainText('Did not finish');
  await rule(quick.racer.start_number, 'Take a status back');
  await dialog(page).getByRole('button', { name: 'Make this ruling' }).click();
  await expect(row(quick.racer.start_number)).toContainText('2nd');

  await page.goto(`${hall.address}/desk/m/lanes/rulings`);
  const run = (await hall.lanes('lanes', 'junior-1.1.1'))['b1']!.run!;
  await page
    .getByRole('row')
    .filter({ has: page.locator(`a[href$="/runs/${run}"]`) })
    .getByRole('button', { name: /^Rule: run of Juniors 6 to 10: Round 1, heat 1, \d+/ })
    .click();
  await expect(dialog(page)).toContainText('The run counts for another car.');
  await dialog(page)
    .getByLabel('Counts for')
    .selectOption({ label: `Juniors 6 to 10: Round 1, heat 2: ${await racerOf('lanes', 'junior-1.1.2')}` });
  await dialog(page).getByRole('button', { name: 'Reassign a run' }).click();
  await expect(page.getByRole('rowheader', { name: 'Run reassigned' })).toBeVisible();

  await page.goto(`${hall.address}/desk/m/lanes/programme`);
  await page.getByRole('button', { name: `Void the heat: ${first}` }).click();
  await expect(dialog(page)).toContainText('raced again');
  await dialog(page).getByRole('button', { name: 'Void the heat' }).click();
  await expect(dialog(page)).toHaveCount(0); // the order is through
  await expect(page.getByRole('button', { name: `Call: ${first}` })).toBeVisible();
  const log = await hall.log('lanes');
  expect(log.filter((type) => /Swapped|StatusRuled|Reassigned|Voided/.test(type))).toEqual([
    'LanesSwapped',
    'StatusRuled',
    'StatusRuled',
    'RunReassigned',
    'HeatVoided',
  ]);
});

async function racerOf(meet: string, heat: string): Promise<string> {
  const { heats } = await hall.ask<{
    heats: { id: string; lanes: { racer: { start_number: number; display_name: string } }[] }[];
  }>('GET', `/meets/${meet}/heats`);
  const racer = heats.find((h) => h.id === heat)!.lanes[0]!.racer;
  return `${racer.start_number} ${racer.display_name}`;
}

test('a protest is recorded and turned down; what is typed stays while the hall goes on', async ({ page }) => {
  await hall.planMeet('protest', ['b1', 'b2'], 4, raceS);
  await race('protest', 'junior-1.1.1');
  await open(page, 'protest');
  await page.getByRole('button', { name: 'Protest: Juniors 6 to 10: Round 1, heat 1' }).click();
  const words = dialog(page).getByLabel('In your own words');
  await words.fill('The roller squeaked');
  await hall.call('protest', 'junior-1.1.2');
  await expect(
    page.getByRole('button', { name: 'Start: Juniors 6 to 10: Round 1, heat 2', includeHidden: true }),
  ).toBeAttached();
  await expect(words).toHaveValue('The roller squeaked');
  await expect(words).toBeFocused();
  await dialog(page).getByRole('button', { name: 'Record a protest' }).click();
  await expect(page.getByText('“The roller squeaked”')).toBeVisible();
  await page.getByRole('button', { name: /^Turn down: protest/ }).click();
  await expect(dialog(page)).toContainText('The result stands.');
  await dialog(page).getByRole('button', { name: 'Turn down' }).click();
  // The next round can be drawn meanwhile; the protest asks for nothing more.
  await expect(page.getByRole('heading', { name: 'A protest waits: uphold it or turn it down' })).toBeHidden();
  // The button is gone; the focus is where the decisions are, not at the top of the page.
  await expect(page.getByRole('group', { name: 'To decide' })).toBeFocused();
});

test('an organiser removes one text; the protest stays, on another desk too', async ({ page, context }) => {
  await open(page, 'protest/rulings');
  const other = await context.newPage();
  await other.goto(`${hall.address}/desk/m/protest/rulings`);
  const words = (p: Page) => p.getByText('“The roller squeaked”');
  await expect(words(other)).toBeVisible();
  await page.getByRole('button', { name: /^Remove this text: Juniors/ }).click();
  await expect(dialog(page)).toContainText('The ruling or protest stays, with its reason.');
  await clean(page);
  await dialog(page).getByRole('button', { name: 'Cancel' }).click();
  await expect(words(page)).toBeVisible();
  await page.getByRole('button', { name: /^Remove this text: Juniors/ }).click();
  await dialog(page).getByRole('button', { name: 'Remove for good' }).click();
  await expect(dialog(page)).toHaveCount(0);
  await expect(words(page)).toHaveCount(0);
  await expect(page.getByRole('table', { name: 'Protests' })).toContainText('turned down');
  await expect(words(other)).toHaveCount(0, { timeout: 20_000 });
  const { protests } = await hall.ask<{ protests: { text?: string; reason: string }[] }>(
    'GET',
    '/meets/protest/protests',
  );
  expect(protests).toEqual([expect.objectContaining({ reason: 'outside-interference' })]);
  expect(protests[0]!.text).toBeUndefined();
});

test('a refusal stands beside the button, in words that say what to do', async ({ page }) => {
  await open(page, 'protest');
  await page.getByRole('button', { name: 'Start: Juniors 6 to 10: Round 1, heat 2' }).click();
  await expect(page.getByRole('alert')).toContainText('not ready');
  await clean(page);
});

test('an entry withdraws and comes back; the meet pauses; a bench goes out and in', async ({ page }) => {
  await hall.ask('POST', '/meets/protest/heats/junior-1.1.2/call-off', { reason: { code: 'other' } });
  await open(page, 'protest/entries');
  await page.getByRole('button', { name: 'Rule: 10 Nutmeg' }).click();
  await dialog(page).getByRole('button', { name: 'Make this ruling' }).click();
  const row = page.getByRole('row').filter({ hasText: 'Start number 10' });
  await expect(row).toContainText('Races no more');
  await page.getByRole('button', { name: 'Rule: 10 Nutmeg' }).click();
  await dialog(page).getByLabel('Ruling', { exact: true }).selectOption('Let an entry come back');
  await dialog(page).getByRole('button', { name: 'Make this ruling' }).click();
  await expect(row).not.toContainText('Races no more');

  await page.goto(`${hall.address}/desk/m/protest`);
  await page.getByRole('button', { name: 'Pause the meet' }).click();
  await dialog(page).getByRole('button', { name: 'Pause the meet' }).click();
  await expect(page.getByText('The meet is paused: Lunch.')).toBeVisible();
  await clean(page);
  await page.getByRole('button', { name: 'Resume the meet' }).click();
  await expect(page.getByText('The meet is paused: Lunch.')).toHaveCount(0);
  await page.getByRole('button', { name: 'Take out: bench 2' }).click();
  await dialog(page).getByRole('button', { name: 'Take out' }).click();
  await expect(page.getByRole('heading', { name: 'A bench is out of service' })).toBeVisible();
  await page.getByRole('button', { name: 'Back in service' }).click();
  await expect(page.getByRole('heading', { name: 'A bench is out of service' })).toHaveCount(0);
});

test('the day is changed, a round is closed early, the division ends before its last round', async ({ page }) => {
  await hall.planMeet('early', ['b1', 'b3'], 2, raceS);
  await race('early', 'junior-1.1.1');
  await open(page, 'early/plan');
  await page.getByRole('button', { name: 'Change the day' }).click();
  await dialog(page).getByLabel('Place').fill('Lower Harbour Hall');
  await dialog(page).getByRole('button', { name: 'Save' }).click();
  await expect(page.getByText('17 April 2027, Lower Harbour Hall')).toBeVisible();

  await page.goto(`${hall.address}/desk/m/early/programme`);
  await page.getByRole('button', { name: 'Close the round' }).click();
  await expect(page.getByRole('alert')).toBeVisible(); // the protest time runs
  await page.getByRole('button', { name: 'Close early' }).click();
  await dialog(page).getByRole('button', { name: 'Close early' }).click();
  await expect(page.getByText('Round 1 is official.')).toBeVisible();
  await page.getByRole('button', { name: 'End the division here' }).click();
  await expect(dialog(page)).toContainText('No further round is drawn.');
  await dialog(page).getByRole('button', { name: 'End the division here' }).click();
  await page.getByRole('button', { name: 'Publish the results' }).click();
  await dialog(page).getByRole('button', { name: 'Publish' }).click();
  await expect(page.getByText('The results are published.')).toBeVisible();
  await clean(page);
});

test('a person is erased for good: the start number stands for the name', async ({ page }) => {
  await open(page, 'protest');
  await page.goto(`${hall.address}/desk/people`);
  await page.getByRole('searchbox', { name: 'Search' }).fill('Lantern');
  const people = page.getByRole('button', { name: 'Erase Kit Lantern' });
  const before = await people.count();
  await people.first().click();
  await expect(dialog(page)).toContainText('Lost for good');
  await expect(dialog(page).getByRole('button', { name: 'Erase for good' })).toBeDisabled();
  await dialog(page).getByLabel('I want this person erased').check();
  await clean(page);
  await dialog(page).getByRole('button', { name: 'Erase for good' }).click();
  await expect(people).toHaveCount(before - 1);
});

test('bench keys come as links with a QR code, and are taken back', async ({ page }) => {
  await open(page, 'protest');
  await page.goto(`${hall.address}/desk/keys`);
  await page.getByRole('button', { name: 'Make a key for every bench' }).click();
  await expect(page.getByRole('img', { name: /^QR code/ })).toHaveCount(3);
  await clean(page);
  const bench = page.getByRole('link', { name: /\/bench\/b2#token=/ });
  await expect(bench).toBeVisible();
  await page.getByRole('button', { name: 'Put away' }).click();
  await page.getByRole('button', { name: 'Take back: Bench volunteer, bench 2' }).click();
  await dialog(page).getByRole('button', { name: 'Take back' }).click();
  await expect(page.getByRole('row').filter({ hasText: 'Bench volunteer, bench 2' })).toContainText('taken back');
});
