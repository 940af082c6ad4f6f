import { expect, test, type Browser, type BrowserContext, type Page } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';

let hall: Hall;
let run: string;
/** The addresses of the practice pages, of an afternoon that two cars have had. */
const practicePages: { public: string[]; desk: string[] } = {
  public: ['/practice/class', '/practice/cars/7'],
  desk: ['/desk/practice', '/desk/practice/lessons'],
};
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3);
  await hall.planMeet('spring', ['b1', 'b2'], 4, 2);
  const lanes = await hall.call('spring', 'junior-1.1.1');
  for (const bench of ['b1', 'b2']) await hall.ready('spring', 'junior-1.1.1', bench, lanes[bench]!.racer.start_number);
  await hall.start('spring', 'junior-1.1.1');
  for (const bench of ['b1', 'b2']) await new CounterBox(hall, bench, 'spring').run(lanes[bench]!.armed!, 2);
  await hall.call('spring', 'junior-1.1.2');
  run = lanes['b1']!.armed!;
  await practise();
});
test.afterAll(() => hall.close());

/** practise gives two cars an afternoon on a bench that no meet has, and one of them another gear on the way. */
async function practise(): Promise<void> {
  const { id } = await hall.ask<{ id: string }>('POST', '/practice/sessions', { benches: ['b3'], race_s: 2, turn: 1 });
  practicePages.desk.push(`/desk/practice/${id}/home`);
  const box = new CounterBox(hall, 'b3');
  for (const car of [7, 8]) await hall.ask('POST', `/practice/sessions/${id}/queue`, { car_number: car });
  for (let nth = 0; nth < 8; nth++) {
    const setup = { driving_teeth: nth % 4 < 2 ? 8 : 9, driven_teeth: 32 };
    if (nth % 2 === 0) await hall.ask('POST', '/practice/cars/7/setups', { setup });
    const { run } = await hall.ask<{ run: string }>('GET', '/benches/b3/order');
    await box.run(run, 2, 6100 + 110 * (nth % 4));
  }
}

const at = (path: string) => hall.address + path;
const lang = (page: Page) => page.evaluate(() => document.documentElement.lang);

/** speaking opens a browser that wants a language. */
const speaking = (browser: Browser, locale: string): Promise<BrowserContext> =>
  browser.newContext({ locale, viewport: { width: 390, height: 844 }, hasTouch: true });

test('the language is the browser’s until somebody chooses, and then it is kept, on all faces', async ({ browser }) => {
  const context = await speaking(browser, 'de-AT');
  const page = await context.newPage();
  await page.goto(at('/m/spring'));
  await expect(page.getByRole('heading', { name: 'Komm zu deinem Stand' })).toBeVisible();
  expect(await lang(page)).toBe('de-DE');
  await page.getByRole('button', { name: 'English' }).click();
  await expect(page.getByRole('heading', { name: 'Come to your bench' })).toBeVisible();
  expect(await lang(page)).toBe('en-GB');
  await page.goto(at('/practice')); // kept, against what the browser wants
  await expect(page.getByRole('heading', { name: 'Practice', exact: true })).toBeVisible();
  await page.getByRole('button', { name: 'Deutsch' }).click();
  await expect(page.getByRole('heading', { name: 'Übung', exact: true })).toBeVisible();

  await page.goto((await hall.signIn()).replace('/desk#', '/desk/m/spring#'));
  await expect(page.getByRole('heading', { name: 'Zu entscheiden' })).toBeVisible();
  await expect(page.getByRole('button', { name: 'English' })).toBeVisible();
  await page.goto(at('/bench/b1'));
  await expect(page.getByRole('heading', { name: 'Hol dieses Auto' })).toBeVisible();
  await page.getByRole('button', { name: 'English' }).click();
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await page.goto(at('/m/spring?lang=de')); // what the address says goes before, and is kept
  await expect(page.getByRole('heading', { name: 'Komm zu deinem Stand' })).toBeVisible();
  await page.goto(at('/m/spring'));
  await expect(page.getByRole('heading', { name: 'Komm zu deinem Stand' })).toBeVisible();
  await context.close();
});

test('who reads German loads German with the page and no file of English', async ({ browser }) => {
  const context = await speaking(browser, 'de');
  const page = await context.newPage();
  const scripts = new Map<string, Promise<string>>();
  page.on('response', (answer) => {
    if (answer.url().endsWith('.js')) scripts.set(answer.url(), answer.text());
  });
  await page.goto(at('/m/spring'));
  await expect(page.getByRole('heading', { name: 'Komm zu deinem Stand' })).toBeVisible();
  const texts = await Promise.all(scripts.values());
  expect(texts.some((text) => text.includes('Komm zu deinem Stand'))).toBe(true);
  expect(texts.some((text) => text.includes('Come to your bench'))).toBe(false);
  const named = await page.evaluate(() =>
    [...document.querySelectorAll<HTMLLinkElement>('link[rel=modulepreload]')].map((link) => link.href),
  );
  const held = await Promise.all(named.map((url) => scripts.get(url)));
  expect(held.some((text) => text?.includes('Komm zu deinem Stand'))).toBe(true);
  await context.close();
});

test('what the server turns down is said in German, with the names of heats', async ({ browser }) => {
  const context = await speaking(browser, 'de');
  const page = await context.newPage();
  await page.goto(at('/desk'));
  await page.getByLabel('Schlüssel oder ganzer Link').fill('wrong-wrong');
  await page.getByRole('button', { name: 'Anmelden', exact: true }).click();
  await expect(page.getByText('Dieser Schlüssel ist hier nicht bekannt oder gilt nicht mehr')).toBeVisible();

  await page.goto((await hall.signIn()).replace('/desk#', '/desk/m/spring#'));
  // Somebody else is quicker: the page still offers what the server no longer takes.
  await expect(page.getByRole('button', { name: /^Starten: / })).toBeVisible();
  await page.route('**/start', async (route) => {
    const url = route.request().url().replace('junior-1.1.2', 'junior-1.1.1');
    await route.continue({ url });
  });
  await page.getByRole('button', { name: /^Starten: / }).click();
  await expect(
    page.getByText('Juniors 6 to 10, Durchgang 1, Lauf 1 ist nicht aufgerufen: Ruf zuerst auf.'),
  ).toBeVisible();
  await context.close();
});

const publicPages = [
  '/?list',
  '/practice',
  '/m/spring',
  '/m/spring/rules',
  '/m/spring/standings/junior',
  '/m/spring/bracket/junior',
  '/m/spring/cars/e7',
  '/m/spring/class/junior',
  '/m/none',
];
const benchPages = ['/bench', '/bench/b1', '/bench/none'];
const deskPages = [
  ...['', '/new', '/benches', '/keys', '/people', '/account'].map((path) => `/desk${path}`),
  ...[
    ...['', '/times', '/entries', '/entries/table', '/programme', '/seeds/junior', '/inspection', '/batteries'],
    ...['/rulings', '/benches', '/paper', '/paper/start-list', '/paper/evening', '/plan'],
  ].map((path) => `/desk/m/spring${path}`),
];

/** sideways are the parts of a page that stick out of it to the side, but for those in a box that scrolls by itself. */
const sideways = (page: Page) =>
  page.evaluate(() => {
    const wide = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= wide) return [];
    return [...document.querySelectorAll('body *')]
      .filter((one) => one.getBoundingClientRect().right > wide + 1 && one.children.length === 0)
      .map((one) => `${one.tagName} ${one.className} ${one.textContent?.slice(0, 60)}`);
  });

/** shown waits until a page is there, and what it asks for with it. */
async function shown(page: Page, path: string): Promise<void> {
  await page.goto(at(path));
  await expect(page.locator('h1').first()).toBeVisible();
  await page.waitForTimeout(300);
}

/** walk opens pages on a phone and on a desk, and looks whether anything sticks out. */
async function walk(page: Page, paths: string[], look: (path: string) => Promise<void>): Promise<void> {
  for (const path of paths) {
    await page.setViewportSize({ width: 390, height: 844 });
    await shown(page, path);
    expect.soft(await sideways(page), `${path} at 390`).toEqual([]);
    await look(path);
    await page.setViewportSize({ width: 1440, height: 900 });
    expect.soft(await sideways(page), `${path} at 1440`).toEqual([]);
  }
}

/** Names of the day, which no language has, and what stands for itself in every one. */
const names =
  /Harbour Hall( spring meet)?|Juniors 6 to 10|Lantern|Puffin|Turbot|Nutmeg|Two-cell open class|Hold the car above the rollers with the motor running; let go on the signal|Benchmeet|English|Deutsch|https?:\S+|\/m\/\S*|127\.0\.0\.1\S*|Kit( \d+)?|organiser's sign-in|^desk$|\band\b|CSV|junior\S*|benchmeet \S.*/g;

/** unspoken are the texts of a page that did not come through the catalogues of the pretended language. */
const unspoken = async (page: Page): Promise<string[]> => {
  const texts = await page.evaluate(() => {
    const found: string[] = [document.title];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const around = node.parentElement!;
      if (!['SCRIPT', 'STYLE', 'NOSCRIPT'].includes(around.tagName)) found.push(node.textContent ?? '');
    }
    for (const one of document.querySelectorAll('*'))
      for (const name of ['aria-label', 'title', 'placeholder', 'alt', 'aria-roledescription', 'aria-valuetext'])
        if (one.hasAttribute(name)) found.push(one.getAttribute(name)!);
    return found;
  });
  return texts
    .map((text) => {
      let rest = text;
      // Brackets within brackets: what a text has another text in.
      for (let before = ''; before !== rest;) [before, rest] = [rest, rest.replace(/\[[^[\]]*\]/g, '')];
      return rest.replace(names, '').trim();
    })
    .filter((rest) =>
      /\p{L}{2,}/u.test(
        rest.replace(
          /\b(km\/h|rpm|mm|min|MB|kB|mV|mA|ppm)\b|\b(Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day\b|\b(January|February|March|April|May|June|July|August|September|October|November|December|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sept?|Oct|Nov|Dec)\b/g,
          '',
        ),
      ),
    );
};

test('a pretended language shows no English past the catalogues, and all of it fits', async ({ browser }) => {
  test.setTimeout(300_000);
  const context = await browser.newContext({ locale: 'en' });
  const page = await context.newPage();
  await page.goto((await hall.signIn()).replace('/desk#', '/desk?lang=qaa#'));
  const practice = [...practicePages.public, ...practicePages.desk];
  await walk(
    page,
    [...publicPages, `/m/spring/runs/${run}`, ...benchPages, ...deskPages, ...practice],
    async (path) => {
      expect.soft(await unspoken(page), path).toEqual([]);
    },
  );
  await context.close();
});

test('German fits and is clean on the pages of the day', async ({ browser }) => {
  test.setTimeout(300_000);
  const context = await browser.newContext({ locale: 'de' });
  const page = await context.newPage();
  await page.goto(await hall.signIn());
  await walk(
    page,
    [...publicPages, ...practicePages.public, ...benchPages, ...deskPages, ...practicePages.desk],
    async (path) => {
      expect.soft(await lang(page), path).toBe('de-DE');
      if (/spring$|rules|car|b1|plan|now|times|practice/.test(path)) await clean(page);
    },
  );
  await context.close();
});
