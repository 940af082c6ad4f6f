import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { enter, planList } from './list-hall';

test.use({ viewport: { width: 1440, height: 900 } });

const meet = 'spring';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await planList(hall, meet);
  await enter(hall, meet, 1, 'Kit Otter');
});
test.afterAll(() => hall.close());

async function open(page: Page, part: string) {
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/${meet}/${part}`);
}
const dialog = (page: Page) => page.getByRole('dialog');

test('two desks at one entry: the later save shows both, and a taken number gives way to the next free one', async ({
  page,
  browser,
}) => {
  test.setTimeout(120_000);
  const other = await (await browser.newContext()).newPage();
  await open(page, 'entries');
  await open(other, 'entries');
  for (const desk of [page, other]) await desk.getByRole('button', { name: /^Change: / }).click();

  await dialog(other).getByLabel('Start number').fill('91');
  await dialog(other).getByRole('button', { name: 'Save' }).click();
  await expect(dialog(other)).toBeHidden();

  await dialog(page).getByLabel('Club').fill('Pier Club');
  await dialog(page).getByRole('button', { name: 'Save' }).click();
  const both = dialog(page).getByRole('table', { name: 'What differs' });
  await expect(both.getByRole('row', { name: 'Start number' })).toHaveText(/Start number\s*1\s*91/);
  await expect(both.getByRole('row', { name: 'Club' })).toHaveText(/Pier Club\s*\(nothing\)/);
  await expect(dialog(page).getByText(/Saved by .+ at \d\d:\d\d:\d\d, while this was open here\./)).toBeVisible();
  await clean(page);
  await page.screenshot({ path: 'screenshots/two-desks.png' });
  await dialog(page).getByRole('button', { name: 'Take theirs' }).click();
  await expect(dialog(page).getByLabel('Start number')).toHaveValue('91');
  await expect(both).toBeHidden();
  await dialog(page).getByLabel('Club').fill('Quay Club');
  await dialog(page).getByRole('button', { name: 'Save' }).click();
  await expect(dialog(page)).toBeHidden();
  const { entries } = await hall.ask<{ entries: object[] }>('GET', `/meets/${meet}/entries`);
  expect(entries).toMatchObject([{ start_number: 91, club: 'Quay Club' }]);

  // Both forms propose the same number.
  for (const desk of [page, other]) {
    await desk.getByRole('button', { name: 'Take an entry' }).click();
    await expect(dialog(desk).getByLabel('Start number')).toHaveValue('92');
    await dialog(desk).getByLabel('Club').fill('Pier Club');
  }
  await dialog(other).getByLabel('Full name').fill('Kim Puffin');
  await dialog(other).getByRole('button', { name: 'Take this entry' }).click();
  await expect(dialog(other).getByText('Number 92 is entered.')).toBeVisible();
  // The next child does not get the club of the last one unasked.
  await expect(dialog(other).getByLabel('Club')).toHaveValue('');
  await dialog(page).getByLabel('Full name').fill('Kit Walnut');
  await dialog(page).getByLabel('Date of birth').fill('2018-05-02');
  await dialog(page).getByRole('button', { name: 'Take this entry' }).click();
  await dialog(page).getByRole('button', { name: 'Take number 93 instead' }).click();
  await expect(dialog(page).getByText('Number 93 is entered.')).toBeVisible();
  const all = await hall.ask<{ entries: { start_number: number; name: string; club?: string }[] }>(
    'GET',
    `/meets/${meet}/entries`,
  );
  expect(all.entries.at(-1)).toMatchObject({ start_number: 93, name: 'Kit Walnut', club: 'Pier Club' });
  await other.context().close();
});

test('a further division begins as the last one, keeps what was typed, and is not undone by another desk', async ({
  page,
}) => {
  await open(page, 'plan');
  await page.getByRole('button', { name: 'Add a division' }).click();
  await expect(dialog(page).getByText('programme are those of Open.')).toBeVisible();
  await expect(dialog(page).getByLabel('Name of the class')).toHaveValue('Open class');
  await expect(dialog(page).getByLabel('Name', { exact: true })).toHaveValue('');
  await dialog(page).getByLabel('Name', { exact: true }).fill('Seniors');
  await dialog(page).getByLabel('Length of a lap in m').fill('2.5');
  await page.keyboard.press('Escape');
  await expect(dialog(page)).toBeHidden();
  await page.getByRole('button', { name: 'Add a division' }).click();
  await expect(dialog(page).getByText('This is what you had typed before; it is not saved yet.')).toBeVisible();
  await expect(dialog(page).getByLabel('Name', { exact: true })).toHaveValue('Seniors');
  await expect(dialog(page).getByLabel('Length of a lap in m')).toHaveValue('2.5');
  await clean(page);
  await page.screenshot({ path: 'screenshots/division-kept.png' });
  await dialog(page).getByLabel('Age from').fill('11');
  await dialog(page).getByRole('button', { name: 'Save the division' }).click();
  await expect(page.getByRole('heading', { name: 'Seniors' })).toBeVisible();

  await page.getByRole('button', { name: 'Change Open' }).click();
  const { divisions } = await hall.ask<{ divisions: Record<string, unknown>[] }>('GET', `/meets/${meet}`);
  const there = divisions.find((d) => d['id'] === 'open')!;
  await hall.ask('PUT', `/meets/${meet}/divisions/open`, {
    name: 'Open to all',
    age_from: 0,
    age_to: 0,
    class: there['class'],
    stages: there['stages'],
  });
  await dialog(page).getByLabel('Age to').fill('12');
  await dialog(page).getByRole('button', { name: 'Save the division' }).click();
  const both = dialog(page).getByRole('table', { name: 'What differs' });
  await expect(both.getByRole('row', { name: /^name/ })).toHaveText(/Open\s*Open to all/);
  await expect(both.getByRole('row', { name: /^age to/ })).toHaveText(/12\s*\(nothing\)/);
  await dialog(page).getByRole('button', { name: 'Keep mine' }).click();
  await expect(dialog(page)).toBeHidden();
  await expect(page.getByRole('heading', { name: 'Open', exact: true })).toBeVisible();
});
