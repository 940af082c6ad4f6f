import { expect, test, type Page } from '@playwright/test';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { planList } from './list-hall';

test.use({ viewport: { width: 1440, height: 900 } });

const meet = 'spring';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await planList(hall, meet);
});
test.afterAll(() => hall.close());

const entries = async () =>
  (
    await hall.ask<{ entries: { start_number: number; name: string; division: string; club?: string }[] }>(
      'GET',
      `/meets/${meet}/entries`,
    )
  ).entries;

/** Hands count what somebody does. */
class Hands {
  clicks = 0;
  keys = 0;
  constructor(readonly page: Page) {}

  async click(name: string) {
    await this.page.getByRole('button', { name, exact: true }).click();
    this.clicks++;
  }

  /** put goes to a field, replaces what stands there, and leaves it. */
  async put(label: string, text: string) {
    await this.page.getByLabel(label, { exact: true }).click();
    await this.page.keyboard.press('Control+A');
    await this.page.keyboard.type(text);
    await this.page.keyboard.press('Tab');
    this.clicks++;
    this.keys += 2 + text.length;
  }
}

async function open(page: Page) {
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/${meet}/entries`);
  await page.getByRole('link', { name: 'From a table' }).click();
  await expect(page.getByRole('heading', { name: 'Entries from a table' })).toBeVisible();
}

test('thirty entries in one paste, three lines put right on the spot', async ({ page, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await open(page);
  await clean(page);
  const began = Date.now();
  const lines = Array.from({ length: 30 }, (_, i) => {
    const birth = i === 4 ? '31.02.2018' : `${(i % 28) + 1}.05.2018`;
    const division = i === 11 ? 'Junoirs' : 'Juniors 6 to 10';
    const name = i === 20 ? '' : `Kit Lantern ${i + 1}`;
    return [`Nick ${i + 1}`, name, birth, division, 'Pier Club', 'ja', 'ja', ''].join('\t');
  });
  const heads = ['Spitzname', 'Name', 'Geburtsdatum', 'Division', 'Verein', 'Bildschirm', 'Ergebnisse', 'Fotos'];
  await page.evaluate((text) => navigator.clipboard.writeText(text), [heads.join('\t'), ...lines].join('\r\n'));
  const hands = new Hands(page);
  await page.getByLabel('Paste the list').click();
  await page.keyboard.press('Control+V');
  [hands.clicks, hands.keys] = [1, 1];

  await expect(page.getByText('3 rows have mistakes, 27 are right.')).toBeVisible();
  await expect(page.getByRole('button', { name: 'Take 30 entries' })).toBeDisabled();
  // The wrong ones stand first, each with what to do.
  const row = (n: number) => page.getByRole('row').nth(n);
  await expect(row(2)).toContainText('Date of birth: There is no day 31.02.2018');
  await expect(row(4)).toContainText('“Junoirs” is no division of this meet: write one of Juniors 6 to 10, Open.');
  await expect(row(6)).toContainText('Name: The name is missing: write it here.');
  await clean(page);
  await page.screenshot({ path: 'screenshots/table-wrong.png', fullPage: true });
  await hands.put('Date of birth, line 6', '3.2.2018');
  await expect(page.getByText('2 rows have mistakes')).toBeVisible();
  await hands.put('Division, line 13', 'Juniors 6 to 10');
  await hands.put('Name, line 22', 'Kit Otter');
  await expect(page.getByText('30 rows, all of them right.')).toBeVisible();
  // What was put right did not move.
  await expect(row(1)).toContainText('right now');
  await expect(page.getByLabel('Number, line 6', { exact: true })).toHaveValue('5');
  await hands.click('Take 30 entries');
  await expect(page.getByText('30 entries are taken.')).toBeVisible();
  const took = Date.now() - began;
  console.log(`${hands.clicks} clicks and ${hands.keys} keys for 30 entries, played in ${(took / 1000).toFixed(1)} s`);
  expect(took).toBeLessThan(120_000);
  expect(hands.clicks + hands.keys).toBeLessThan(60);

  const all = await entries();
  expect(all).toHaveLength(30);
  expect(all.map((e) => e.start_number)).toEqual(Array.from({ length: 30 }, (_, i) => i + 1));
  expect(all.every((e) => e.division === 'junior' && e.club === 'Pier Club')).toBe(true);
  expect((await hall.log(meet)).filter((type) => type === 'EntryTaken')).toHaveLength(30);
});

test('files that cannot be read say where, a list outlives its page, and a column is named on the spot', async ({
  page,
}) => {
  await open(page);
  const file = (name: string) => ({
    name,
    mimeType: 'text/csv',
    buffer: readFileSync(fileURLToPath(new URL(`../../domain/entrytable/testdata/${name}`, import.meta.url))),
  });
  const choose = (name: string) => page.getByLabel('Or a CSV file').setInputFiles(file(name));
  for (const [name, place] of [
    ['broken/workbook.csv', 'Line 1, column 1: This is a spreadsheet’s own file'],
    ['broken/utf16-le.csv', 'Line 1, column 1: This is text in UTF-16'],
    ['broken/nul-bytes.csv', 'Line 2, column 2: Here is a sign that no text has'],
    ['broken/unclosed-quote.csv', 'Line 3, column 2: A quotation mark is opened here and never closed'],
  ] as const) {
    await choose(name);
    await expect(page.getByRole('alert')).toContainText(place.replace('’', "'"));
    await expect(page.getByRole('button', { name: /^Take \d/, disabled: false })).toHaveCount(0);
  }
  // A file that stops being readable can be put right as text.
  await expect(page.getByLabel('Paste the list')).toHaveValue(/"Kit Puffin/);

  await page.getByLabel('Paste the list').fill('Kind;Hobby\nKit Walnut;swim\nKim Walnut;row');
  await page.getByLabel('Division of rows that name none').selectOption('Open');
  await page.getByRole('button', { name: 'Look at it' }).click();
  await expect(page.getByText('2 rows, all of them right.')).toBeVisible();
  await expect(page.getByText('“Hobby” is no known head')).toBeVisible();
  await page.getByLabel('What “Hobby” is').selectOption('Club');
  await expect(page.getByRole('columnheader', { name: 'Club', exact: true })).toBeVisible();
  await page.getByRole('link', { name: 'All entries' }).first().click();
  await page.getByRole('link', { name: 'From a table' }).click();
  await expect(page.getByText('2 rows, all of them right.')).toBeVisible();
  await page.getByRole('button', { name: 'Change line 3' }).click();
  await page.getByRole('button', { name: 'Leave out line 3' }).click();
  await page.setViewportSize({ width: 390, height: 844 });
  await clean(page);
  await page.screenshot({ path: 'screenshots/table-phone.png', fullPage: true });
  await page.getByRole('button', { name: 'Take 1 entry' }).click();
  await expect(page.getByText('1 entry is taken.')).toBeVisible();
  expect((await entries()).find((e) => e.name === 'Kit Walnut')).toMatchObject({ division: 'open', club: 'swim' });

  await page.getByRole('link', { name: 'All entries' }).first().click();
  const saved = page.waitForEvent('download');
  await page.getByRole('link', { name: 'Save as CSV' }).click();
  expect((await saved).suggestedFilename()).toBe('spring-entries.csv');
});
