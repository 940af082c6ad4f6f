import { expect, test, type CDPSession, type Page } from '@playwright/test';
import { Hall } from './bench-hall';

// What a first visit weighs, over plain http by a name, as a phone in a hall has it: there is no brotli, only gzip.
test.use({
  viewport: { width: 390, height: 844 },
  launchOptions: {
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--host-resolver-rules=MAP hall.test 127.0.0.1'],
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
  cdp.on('Network.requestWillBeSent', (e) => loads.set(e.requestId, { url: e.request.url, type: e.type ?? '', bytes: 0, from: e.timestamp, to: Infinity }));
  cdp.on('Network.loadingFinished', (e) => {
    const load = loads.get(e.requestId);
    if (load) [load.bytes, load.to] = [e.encodedDataLength, e.timestamp];
  });
  return { cdp, loads };
}

/** weigh gives kB by kind, as they came over the wire. */
function weigh(loads: Map<string, Load>): { all: number; fonts: number; code: number } {
  const kB = (of: (load: Load) => boolean) => [...loads.values()].filter(of).reduce((sum, load) => sum + load.bytes, 0) / 1000;
  return { all: kB(() => true), fonts: kB((load) => load.type === 'Font'), code: kB((load) => load.type === 'Script' || load.type === 'Stylesheet') };
}

/** turns is how often the page waited for files before it could ask for further ones. */
function turns(loads: Map<string, Load>): number {
  const files = [...loads.values()].filter((load) => /\.(js|css)$/.test(load.url)).sort((a, b) => a.from - b.from);
  let count = 0;
  let until = -Infinity;
  for (const file of files) {
    if (file.from <= until) continue;
    count++;
    until = Math.min(...files.filter((other) => other.from >= file.from).map((other) => other.to));
  }
  return count;
}

interface Visit {
  what: string;
  open: (page: Page) => Promise<unknown>;
  seen: (page: Page) => Promise<unknown>;
  all: number;
  code: number;
}
const visits: Visit[] = [
  { what: 'the bench page', open: (page) => page.goto(phone), seen: (page) => expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible({ timeout: 30_000 }), all: 120, code: 60 },
  { what: 'the hall screen', open: (page) => page.goto(at('/m/spring')), seen: (page) => expect(page.getByText('Lantern').first()).toBeVisible({ timeout: 30_000 }), all: 120, code: 60 },
  { what: 'the desk', open: (page) => page.goto(hall.signIn.replace('127.0.0.1', 'hall.test').replace('/desk#', '/desk/m/spring#')), seen: (page) => expect(page.getByText('Lantern').first()).toBeVisible({ timeout: 30_000 }), all: 250, code: 130 },
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
    console.log(`${visit.what}: ${weight.all.toFixed(1)} kB in ${loads.size} requests, fonts ${weight.fonts.toFixed(1)}, scripts and styles ${weight.code.toFixed(1)}, ${turns(loads)} turns`);
    expect(weight.code, 'the page has scripts at all').toBeGreaterThan(20);
    expect(weight.all).toBeLessThan(visit.all);
    expect(weight.fonts).toBeLessThanOrEqual(45);
    expect(weight.code, [...loads.values()].map((load) => load.url).join('\n')).toBeLessThanOrEqual(visit.code);
  });
}

test('a slow phone waits for no chain of files', async ({ browser }) => {
  test.setTimeout(120_000);
  for (const visit of visits.slice(0, 2)) {
    const took: number[] = [];
    for (let n = 0; n < 5; n++) {
      const page = await (await browser.newContext({ viewport: { width: 390, height: 844 } })).newPage();
      const { cdp, loads } = await watch(page);
      await cdp.send('Emulation.setCPUThrottlingRate', { rate: 4 });
      await cdp.send('Network.emulateNetworkConditions', { offline: false, latency: 150, downloadThroughput: 1_600_000 / 8, uploadThroughput: 750_000 / 8 });
      const began = Date.now();
      await visit.open(page);
      await visit.seen(page);
      took.push(Date.now() - began);
      // Entry with its texts at once, then what it asks for.
      expect(turns(loads)).toBeLessThanOrEqual(2);
      await page.context().close();
    }
    console.log(`${visit.what} on a slow phone: ${took.sort((a, b) => a - b)[2]} ms to content, median of ${took.join(', ')}`);
  }
});
