import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';
import { planPaper, type PaperEntry } from './paper-hall';
import { letters, printed } from './pdf';

let hall: Hall;
let entries: PaperEntry[];
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3, 4, 5, 6);
  entries = await planPaper(hall, 'spring', 16);
});
test.afterAll(() => hall.close());

test.use({ viewport: { width: 1440, height: 900 } });

const flat = (text: string) => text.replace(/\s+/g, ' ');

test('the evening before: keys made for this print, and everything for tomorrow in one', async ({ page, context }) => {
  test.setTimeout(300_000);
  // The server of a test listens on this machine alone; here it says what one in a hall does.
  const there = 'http://192.168.7.20:8080';
  await context.route('**/api/v1/about', async (route) => {
    const answer = await route.fetch();
    await route.fulfill({ response: answer, json: { ...(await answer.json()), addresses: [there] } });
  });
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/spring/paper/evening`);
  await expect(page.getByText(`All codes and links of this print work only at ${there}.`)).toBeVisible({
    timeout: 30_000,
  });
  await expect(page.getByText('bring your own router and use it tonight, or print in the hall')).toBeVisible();
  await expect(page.getByRole('img', { name: 'to test with a phone' })).toBeVisible();
  await clean(page);

  const keys = () => hall.ask<{ tokens: { benches: string[]; meet?: string; expires: string }[] }>('GET', '/tokens');
  const before = (await keys()).tokens.length;
  await page.getByRole('button', { name: 'Make 6 keys for this print' }).click();
  await expect(page.getByText('6 keys are made and in the print below.')).toBeVisible({ timeout: 20_000 });
  const made = (await keys()).tokens.filter((token) => token.benches.length > 0);
  expect((await keys()).tokens).toHaveLength(before + 6);
  expect(made.map((token) => token.benches.join()).toSorted()).toEqual(['b1', 'b2', 'b3', 'b4', 'b5', 'b6']);
  for (const token of made) {
    expect(token.meet).toBe('spring');
    expect(new Date(token.expires).toDateString()).toBe('Sat Apr 17 2027');
  }
  await clean(page);

  for (const [format, width, height] of [
    ['A4', 595, 842],
    ['Letter', 612, 792],
  ] as const) {
    const pages = await printed(page, format);
    for (const [i, one] of pages.entries()) {
      expect(one.text.trim(), `page ${i + 1}`).not.toBe('');
      expect(Math.abs(one.width - width) + Math.abs(one.height - height)).toBeLessThan(3);
      expect(Math.min(one.left, one.top, width - one.right, height - one.bottom), `page ${i + 1}`).toBeGreaterThan(14);
      expect(one.colour, `page ${i + 1}`).toBeLessThanOrEqual(3);
    }
    const { smallest, titles } = await letters(page);
    expect(smallest).toBeGreaterThanOrEqual(8.99);
    for (const size of pages.flatMap((one) => one.sizes))
      expect(Math.min(...titles.map((title) => Math.abs(title - size))), `a title of ${size} pt`).toBeLessThan(0.35);

    const on = (text: string | RegExp) =>
      pages.flatMap((one, i) =>
        (typeof text === 'string' ? flat(one.flow).includes(text) : text.test(flat(one.flow))) ? [i] : [],
      );
    for (const sheet of [
      'The evening before',
      'Start list',
      'Roll-call',
      'Keys for volunteers',
      'Rules of the day',
      'Take care',
      'Call list',
      'Heat sheets',
    ])
      expect(on(`${sheet} · Harbour Hall spring meet`), sheet).not.toEqual([]);
    for (const command of [
      'benchmeet backup STICK/evening.db',
      'benchmeet verify STICK/evening.db',
      'benchmeet import STICK/evening.db --data restore-check',
    ])
      expect(on(command), command).toEqual([0]);
    // The six pictures: two copies on one page.
    expect(on(/1\. Sign in\..*6\. Something wrong\?.*1\. Sign in\..*6\. Something wrong\?/)).toHaveLength(1);
    // A plate is a page; keys never stand on it, for it hangs in the hall.
    for (const bench of [1, 2, 3, 4, 5, 6]) {
      const plate = on(`${there}/bench/b${bench}`);
      expect(plate).toHaveLength(1);
      expect(pages[plate[0]!]!.text).not.toContain('token');
      expect(on(`Opens the bench page of bench ${bench}, and nothing else.`)).toHaveLength(1);
    }
    expect(on('Good until the end of Saturday, 17 April 2027.')).not.toEqual([]);
    // A card for everybody, with the page's address and no name that was not agreed to.
    for (const one of entries) {
      const address = `${there}/m/spring/cars/${one.id}`;
      const squeezed = pages.filter((p) => p.flow.replace(/\s+/g, '').includes(address.replace(/\s+/g, '')));
      expect(squeezed.length, address).toBeGreaterThanOrEqual(1);
    }
    expect(on('nothing on a cord near rollers')).not.toEqual([]);
    // Names stand on the sheets for officials alone.
    for (const i of on(/Kit Child\d+ Quill/)) expect(flat(pages[i]!.text)).toContain('Roll-call · ');
  }
  // An official who is no organiser prints it without keys.
  const official = await hall.ask<{ links: string[] }>('POST', '/tokens', { role: 'official', label: 'table' });
  await page.context().clearCookies();
  await page.goto(official.links[0]!);
  await expect(page.getByText('Signed in as official')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/spring/paper/evening`);
  await expect(page.getByText('Only an organiser can make keys.')).toBeVisible({ timeout: 20_000 });
});

test('an address that no phone can open is said before codes are printed', async ({ page }) => {
  await page.goto(await hall.signIn());
  await expect(page.getByText('Signed in as organiser')).toBeVisible();
  await page.goto(`${hall.address}/desk/m/spring/paper/evening`);
  await expect(page.getByText('which names this machine alone: no phone can open it')).toBeVisible({ timeout: 30_000 });
  await expect(page.getByRole('img', { name: 'to test with a phone' })).toHaveCount(0);
});
