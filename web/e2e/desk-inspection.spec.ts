import { expect, test, type Page } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';
import { Keyboard } from './desk-keyboard';
import { inspect, measure, planTable } from './table-hall';

test.describe.configure({ mode: 'serial' });

const meet = 'winter';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await planTable(hall, meet, ['b1', 'b2'], 2);
  await hall.call(meet, 'junior-1.1.1');
});
test.afterAll(() => hall.close());

async function toDesk(page: Page, path: string) {
  await page.goto(await hall.signIn('official', 'inspector'));
  await expect(page.getByText('Signed in as official')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/${meet}${path}`);
}

test('a bench holds a car that was not checked, and says where to go', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  const phone = await hall.phoneFor('b1');
  await page.goto(phone.link);
  const { start_number } = (await hall.lanes(meet, 'junior-1.1.1'))['b1']!.racer;
  await expect(page.getByText('This car cannot race yet:')).toBeVisible();
  await expect(page.getByText('take it to the battery table first')).toBeVisible();
  await expect(page.getByText('take it to the inspection table')).toBeVisible();
  await clean(page);
  for (const digit of String(start_number)) await page.getByRole('button', { name: digit, exact: true }).click();
  await page.getByRole('button', { name: 'Ready' }).click();
  await expect(page.getByText(`Start number ${start_number} cannot race yet.`).first()).toBeVisible();
  expect(await hall.log(meet)).not.toContain('BenchReady');
});

test('an inspector measures a battery and looks at a car, on a phone and by keyboard', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await toDesk(page, '/inspection');
  const keys = new Keyboard(page);
  await expect(page.getByRole('heading', { name: 'All cars' })).toBeVisible();
  await clean(page);
  await keys.type('Start number', '7');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Measure a battery' })).toBeVisible();
  await clean(page);

  // Too empty: the answer is one that a child understands.
  await keys.type('Number on the pack', 'L1');
  await keys.type('Volts at rest', '2.31');
  await keys.type('Volts while it works', '2.2');
  await keys.type('Measured with', 'meter 1');
  await keys.press('Save the battery check');
  await expect(page.getByText('Pack L1 may not race.')).toBeVisible();
  await expect(
    page.getByText('This pack holds too little: 2.31 V, it needs 3.00 V. Take another one.').first(),
  ).toBeVisible();
  await clean(page);

  // Another one, with its resistance measured at two loads.
  await keys.type('Number on the pack', 'L2');
  await keys.type('Volts at rest', '3.18');
  await keys.type('Volts while it works', '2.9');
  await keys.tick('Measure its resistance with two loads');
  await keys.type('Volts at the first load', '3.17');
  await keys.type('Volts at the second load', '2.95');
  await keys.press('Save the battery check');
  await expect(page.getByText('Pack L2 may race.')).toBeVisible();
  await expect(page.getByRole('cell', { name: '440', exact: true })).toBeVisible(); // 0.22 V over 0.5 A

  // Too heavy, then put right.
  await keys.type('Weight with battery in g', '191');
  await keys.choose('Nothing is loose', 'Yes');
  await keys.press('Save the inspection');
  await expect(
    page.getByText('Weight with battery: 191 g is too much, at most 180 g is allowed.').first(),
  ).toBeVisible();
  await clean(page);
  await keys.type('Weight with battery in g', '178.5');
  await keys.choose('Nothing is loose', 'Yes');
  await keys.press('Save the inspection');
  await expect(page.getByText(/^Passed at/)).toBeVisible();
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await clean(page);

  // A pass is taken back when the car was changed.
  await keys.press('The car was changed');
  await keys.press('Take the pass back', keys.dialog());
  await expect(
    page.getByText('This car was changed since it was inspected: take it to the inspection table again.').first(),
  ).toBeVisible();
  await inspect(hall, meet, 'e7');
  await expect(page.getByText(/^Passed at/)).toBeVisible();
});

test('with its checks the car is ready, with the pack that it races on', async ({ page }) => {
  const lanes = await hall.lanes(meet, 'junior-1.1.1');
  const [bench, lane] = Object.entries(lanes).find(([, l]) => l.racer.start_number === 7)!;
  const phone = await hall.phoneFor(bench);
  await page.goto(phone.link);
  await expect(page.getByText('Battery pack L2')).toBeVisible();
  await expect(page.getByText('This car cannot race yet:')).toHaveCount(0);
  const confirm = async () => {
    await page.getByLabel('Which number is on the car?').focus();
    await page.keyboard.press('Control+A');
    await page.keyboard.type(`${lane.racer.start_number}`);
    await page.keyboard.press('Enter');
  };
  // The pack that was too empty is in the car: it is the one that is judged.
  await page.getByText('Another pack is in the car').click();
  await page.getByLabel('Number on the pack').fill('L1');
  await clean(page);
  await confirm();
  await expect(page.getByText('Start number 7 cannot race yet. This pack holds too little: 2.31 V')).toBeVisible();
  await page.getByText('Another pack is in the car').click();
  await page.getByLabel('Number on the pack').fill('');
  await confirm();
  await expect(page.getByRole('heading', { name: 'Ready: wait for the starter' })).toBeVisible();
  await expect(page.getByText('Battery pack L2')).toBeVisible();
  await expect(page.getByText('A hot, swollen or leaking battery: hands off')).toBeVisible();
  await clean(page);
});

test('an official lets the other race, with a reason', async ({ page }) => {
  await toDesk(page, '');
  const row = page.getByRole('row', { name: /Puffin/ });
  await expect(page.getByText('take it to the battery table first').first()).toBeVisible();
  await row.getByRole('button', { name: /^Rule/ }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Ruling').selectOption('let-race');
  await dialog.getByRole('button', { name: 'Make this ruling' }).click();
  await expect(row.getByText('may race without its checks')).toBeVisible();
  const lanes = await hall.lanes(meet, 'junior-1.1.1');
  const [bench, lane] = Object.entries(lanes).find(([, l]) => l.racer.start_number === 8)!;
  await hall.ready(meet, 'junior-1.1.1', bench, lane.racer.start_number);
  expect((await hall.log(meet)).filter((type) => type === 'BenchReady')).toHaveLength(2);
});

test('packs of the club are brought, measured, lent and taken back', async ({ page }) => {
  await toDesk(page, '/batteries');
  await expect(page.getByText('The club lends no packs today.')).toBeVisible();
  await page.getByLabel('Numbers of the packs to bring').fill('C1 C2, C3');
  await page.getByRole('button', { name: 'Bring them' }).click();
  await expect(page.getByText('All packs of the club are at the table.')).toBeVisible();
  for (const [pack, volts] of [
    ['C1', 3.21],
    ['C2', 3.19],
  ] as const)
    await measure(hall, meet, pack, volts, { division: 'junior' });
  await hall.ask('POST', `/meets/${meet}/packs/C1/issue`, { entry: 'e8' });
  await expect(page.getByText('1 pack is out')).toBeVisible();
  await expect(page.getByText('Resistance over volts').first()).toBeVisible();
  await clean(page);
  await page.getByRole('button', { name: 'Back, and hurt: pack C1' }).click();
  await expect(page.getByText('All packs of the club are at the table.')).toBeVisible();
  await expect(page.getByRole('listitem').filter({ hasText: 'C1' })).toContainText('Aside: hurt');

  // A hurt pack is not measured: nothing but that it is hurt is asked for.
  await page.getByLabel('Number on the pack').fill('C3');
  await page.getByLabel('It is hot, swollen, leaking or damaged').check();
  await expect(page.getByLabel('Volts at rest')).toHaveCount(0);
  await page.getByRole('button', { name: 'Save the battery check' }).click();
  await expect(page.getByText('Pack C3 may not race.')).toBeVisible();
  await expect(page.getByText('do not use it. Tell an adult').first()).toBeVisible();
  await clean(page);
});

test('a pack that was put aside by mistake is measured again', async ({ page }) => {
  for (let i = 0; i < 3; i++) await measure(hall, meet, 'C2', 2.4, { division: 'junior' });
  await toDesk(page, '/batteries');
  const aside = page.getByRole('listitem').filter({ hasText: 'C2' });
  await expect(aside).toContainText('This pack holds too little: 2.40 V, it needs 3.00 V.');
  await aside.getByRole('button', { name: 'Measure it again: pack C2' }).click();
  await clean(page);
  await page.getByRole('dialog').getByRole('button', { name: 'Put it back' }).click();
  await expect(aside).toHaveCount(0);
  await measure(hall, meet, 'C2', 3.2, { division: 'junior' });
  await expect(page.getByRole('row', { name: /^C2 the table Alkaline/ }).getByText('Accepted')).toBeVisible();
});

test('cars on the podium are held until they were inspected again', async ({ page }) => {
  test.setTimeout(60_000);
  const heat = 'junior-1.1.1';
  await hall.start(meet, heat);
  for (const [bench, lane] of Object.entries(await hall.lanes(meet, heat)))
    await new CounterBox(hall, bench, meet).run(lane.armed!, 4);
  await hall.ask('POST', `/meets/${meet}/divisions/junior/close`, {});
  await toDesk(page, '');
  const cards = page.getByRole('article').filter({ hasText: 'A car on the podium is held: inspect it again' });
  await expect(cards).toHaveCount(2);
  await clean(page);
  await cards
    .first()
    .getByRole('link', { name: /^Inspect start number/ })
    .click();
  await expect(page.getByText('On the podium: keep the car here and inspect it again.')).toBeVisible();
  await clean(page);
  for (const entry of ['e7', 'e8']) await inspect(hall, meet, entry);
  await expect(page.getByText('On the podium: keep the car here and inspect it again.')).toHaveCount(0);
  await page.goto(`${hall.address}/desk/m/${meet}`);
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  await expect(cards).toHaveCount(0);
});

test('the class asks for what the plan says', async ({ page }) => {
  const made = await hall.ask<{ links: string[] }>('POST', '/tokens', { role: 'organiser', label: 'laptop' });
  await hall.ask('POST', '/meets', { id: 'bare', plan: { name: 'Harbour Hall summer meet', date: '2027-07-10' } });
  await page.goto(made.links[0]!);
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/bare/plan`);
  await page.getByRole('button', { name: 'Add a division' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Name', { exact: true }).fill('Juniors');
  await dialog.getByLabel('Name of the class').fill('Open');
  await dialog.getByRole('button', { name: 'Add nickel-metal hydride' }).click();
  await expect(dialog.getByLabel('Least volts at rest')).toHaveValue('2.5');
  await dialog.getByRole('button', { name: 'Fill in the usual lines' }).click();
  await expect(dialog.getByLabel('What is looked at').first()).toHaveValue('Weight with battery');
  await clean(page);
  await dialog.getByRole('button', { name: 'Save the division' }).click();
  await expect(dialog).toHaveCount(0);
  const { divisions } = await hall.ask<{
    divisions: { class: { battery: { windows: { chemistry: string; cells: number }[] }; checklist: unknown[] } }[];
  }>('GET', '/meets/bare');
  expect(divisions[0]!.class.battery.windows).toMatchObject([{ chemistry: 'nickel-metal-hydride', cells: 2 }]);
  expect(divisions[0]!.class.checklist.length).toBeGreaterThan(4);
});
