import { expect, test, type Browser, type BrowserContext, type CDPSession, type Page } from '@playwright/test';
import { Hall } from './bench-hall';

// What a first visit weighs, over plain http by a name, as a phone in a hall has it: there is no brotli, only gzip.
test.use({
  viewport: { width: 390, height: 844 },
  launchOptions: {
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--host-resolver-rules=MAP hall.test 127.0.0.1',
    ],
  },
});

let hall: Hall;
let phone: string;
test.beforeAll(async () => {
  test.setTimeout(120_000);
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await hall.planMeet('spring', ['b1', 'b2'], 6, 60, 600);
  await hall.call('spring', 'junior-1.1.1');
  phone = (await hall.phoneFor('b1')).link.replace('127.0.0.1', 'hall.test');
});
test.afterAll(() => hall.close());

const at = (path: string) => hall.address.replace('127.0.0.1', 'hall.test') + path;

interface Load {
  url: string;
  type: string;
  bytes: number;
  /** When it was asked for and when it was there, in s of the browser's clock. */
  from: number;
  to: number;
}

/** watch notes what comes over the wire, heads included. */
async function watch(page: Page): Promise<{ cdp: CDPSession; loads: Map<string, Load> }> {
  const cdp = await page.context().newCDPSession(page);
  const loads = new Map<string, Load>();
  await cdp.send('Network.enable');
  cdp.on('Network.requestWillBeSent', (e) =>
    loads.set(e.requestId, { url: e.request.url, type: e.type ?? '', bytes: 0, from: e.timestamp, to: Infinity }),
  );
  cdp.on('Network.loadingFinished', (e) => {
    const load = loads.get(e.requestId);
    if (load) [load.bytes, load.to] = [e.encodedDataLength, e.timestamp];
  });
  return { cdp, loads };
}

/** weigh gives kB by kind, as they came over the wire. */
function weigh(loads: Map<string, Load>): { all: number; fonts: number; code: number } {
  const kB = (of: (load: Load) => boolean) =>
    [...loads.values()].filter(of).reduce((sum, load) => sum + load.bytes, 0) / 1000;
  return {
    all: kB(() => true),
    fonts: kB((load) => load.type === 'Font'),
    code: kB((load) => load.type === 'Script' || load.type === 'Stylesheet'),
  };
}

/**
 * turns is how often a page waited for an answer before it could ask for further ones: for files, or for all but
 * fonts until a moment.
 */
function turns(loads: Map<string, Load>, of: (load: Load) => boolean): number {
  const asked = [...loads.values()].filter(of).sort((a, b) => a.from - b.from);
  let count = 0;
  let until = -Infinity;
  for (const load of asked) {
    if (load.from <= until) continue;
    count++;
    until = Math.min(...asked.filter((other) => other.from >= load.from).map((other) => other.to));
  }
  return count;
}
const files = (load: Load) => /\.(js|css)$/.test(load.url);

interface Visit {
  what: string;
  open: (page: Page) => Promise<unknown>;
  seen: (page: Page) => Promise<unknown>;
  all: number;
  code: number;
}
const visits: Visit[] = [
  {
    what: 'the bench page',
    open: (page) => page.goto(phone),
    seen: (page) => expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible({ timeout: 30_000 }),
    all: 120,
    code: 62.5, // with the choice of a language, and a key to practise by
  },
  {
    what: 'the hall screen',
    open: (page) => page.goto(at('/m/spring')),
    seen: (page) => expect(page.getByText('Lantern').first()).toBeVisible({ timeout: 30_000 }),
    all: 120,
    code: 62.5, // with when the next heats likely come, how late the day is, and the choice of a language
  },
  {
    what: 'the desk',
    open: async (page) =>
      page.goto((await hall.signIn()).replace('127.0.0.1', 'hall.test').replace('/desk#', '/desk/m/spring#')),
    seen: (page) => expect(page.getByText('Lantern').first()).toBeVisible({ timeout: 30_000 }),
    all: 250,
    code: 130,
  },
];

for (const visit of visits) {
  test(`the first load of ${visit.what} keeps to its budget`, async ({ page }, info) => {
    const { loads } = await watch(page);
    await visit.open(page);
    await visit.seen(page);
    await page.evaluate(() => document.fonts.ready);
    await page.waitForLoadState('load');
    const weight = weigh(loads);
    info.annotations.push({ type: 'kB', description: JSON.stringify(weight) });
    console.log(
      `${visit.what}: ${weight.all.toFixed(1)} kB in ${loads.size} requests, fonts ${weight.fonts.toFixed(1)}, scripts and styles ${weight.code.toFixed(1)}, ${turns(loads, files)} turns of files`,
    );
    expect(weight.code, 'the page has scripts at all').toBeGreaterThan(20);
    expect(weight.all).toBeLessThan(visit.all);
    expect(weight.fonts).toBeLessThanOrEqual(45);
    expect(weight.code, [...loads.values()].map((load) => load.url).join('\n')).toBeLessThanOrEqual(visit.code);
  });
}

/**
 * shown has the page itself note when a text of its first content is painted, in ms
 * after it was asked for: a test that asks the page again and again slows it down.
 */
async function shown(page: Page, text: string): Promise<() => Promise<number>> {
  await page.addInitScript((text) => {
    const seen = new Promise<number>((done) => {
      const changes = new MutationObserver(() => {
        if (!document.body?.textContent?.includes(text)) return;
        changes.disconnect();
        requestAnimationFrame(() => setTimeout(() => done(performance.now())));
      });
      changes.observe(document, { childList: true, subtree: true, characterData: true });
    });
    Object.assign(window, { seen });
  }, text);
  return () => page.evaluate(() => (window as unknown as { seen: Promise<number> }).seen);
}

/** signedIn gives a browser that holds nothing but the cookie of a phone. */
async function signedIn(browser: Browser): Promise<BrowserContext> {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const token = /token=(.*)/.exec(phone)![1]!;
  const answer = await fetch(`${hall.address}/api/v1/session`, {
    method: 'POST',
    headers: { Authorization: `Bearer ${token}`, 'Content-Type': 'application/json' },
    body: JSON.stringify({ token }),
  });
  const [name, value] = answer.headers.get('Set-Cookie')!.split(';')[0]!.split('=') as [string, string];
  await context.addCookies([{ name, value, domain: 'hall.test', path: '/', httpOnly: true, sameSite: 'Strict' }]);
  return context;
}

// Milliseconds are printed and not held: they are those of the machine. What is held is what makes them on a slow
// network: how often the page waits for an answer before it can ask on. The page, then all files, then what they ask.
for (const { what, path, text } of [
  { what: 'the bench page', path: '/bench/b1', text: 'Bring this car' },
  { what: 'the hall screen', path: '/m/spring', text: 'Lantern' },
]) {
  test(`a slow phone shows ${what} after three turns`, async ({ browser }) => {
    test.setTimeout(120_000);
    const took: number[] = [];
    // The fewest of five count: a page that has to ask again does so each time, and a busy machine now and then.
    let filesIn = Infinity;
    let fewest = { turns: Infinity, of: '' };
    for (let n = 0; n < 5; n++) {
      const context = await signedIn(browser);
      const page = await context.newPage();
      const { cdp, loads } = await watch(page);
      await cdp.send('Emulation.setCPUThrottlingRate', { rate: 4 });
      await cdp.send('Network.emulateNetworkConditions', {
        offline: false,
        latency: 150,
        downloadThroughput: 1_600_000 / 8,
        uploadThroughput: 750_000 / 8,
      });
      const content = await shown(page, text);
      await page.goto(at(path), { waitUntil: 'commit' });
      const ms = await content();
      took.push(Math.round(ms));
      filesIn = Math.min(filesIn, turns(loads, files));
      const began = Math.min(...[...loads.values()].map((load) => load.from));
      const before = (load: Load) =>
        load.type !== 'Font' && !load.url.endsWith('/icon.svg') && load.to - began < ms / 1000;
      if (turns(loads, before) < fewest.turns)
        fewest = {
          turns: turns(loads, before),
          of: [...loads.values()]
            .filter(before)
            .map((load) => `${(load.from - began).toFixed(3)} ${(load.to - began).toFixed(3)} ${load.url}`)
            .join('\n'),
        };
      await context.close();
    }
    expect(filesIn, 'all files at once').toBe(1);
    expect(fewest.turns, fewest.of).toBeLessThanOrEqual(3);
    console.log(
      `${what} on a slow phone: ${[...took].sort((a, b) => a - b)[2]} ms to content, median of ${took.join(', ')}`,
    );
  });
}
