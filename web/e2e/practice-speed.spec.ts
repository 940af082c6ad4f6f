import { expect, test, type Page, type Route } from '@playwright/test';
import { Hall } from './bench-hall';

// A season of practice, 200 cars with 20,000 runs, is drawn soon on a processor that is four times slower. How long
// the server takes for it is a benchmark of its own (BenchmarkPracticeSeason): here its answers are made up, of the
// same size, and what is measured is from the last byte of an answer to the frame in which all of it stands.

/** From the answer to the picture of what is in sight, in ms. */
const boundMs = 200;
const rounds = 7;

let hall: Hall;
let session: string;
test.beforeAll(async () => {
  test.setTimeout(240_000);
  hall = await Hall.open();
  await hall.addBenches(1);
  session = (await hall.ask<{ id: string }>('POST', '/practice/sessions', { benches: ['b1'], race_s: 15 })).id;
});
test.afterAll(() => hall.close());

const letter = (n: number): string =>
  n < 26 ? String.fromCharCode(65 + n) : letter(Math.floor(n / 26) - 1) + letter(n % 26);

/** classOf are so many points of cars that differ in all that a plot is made of. */
const classOf = (cars: number, points: number) => ({
  seq: points,
  cars,
  least_cars: 5,
  points: Array.from({ length: points }, (_, n) => ({
    code: letter(n),
    ratio: Math.round(300 + (n * 300) / points) / 100,
    volts: n % 3 ? 2.4 : 3,
    wheel_mm: 22 + (n % 17) / 2,
    mass_g: 100 + (n % 61),
    speed_mps: Math.round(20 * (5 + 3 * ((n * 7919) % 997) * 0.001)) / 20,
    runs: 10,
  })),
});

/** lifeOf is a car of a season: a hundred runs, changed after each ten. */
const lifeOf = (number: number) => {
  const at = (n: number) => new Date(Date.UTC(2027, 0, 2 + 7 * Math.floor(n / 2), 14, n)).toISOString();
  const setup = (n: number) => ({ driving_teeth: 10, driven_teeth: 30 + n, cells: 2, wheel_mm: 25 });
  const runs = Array.from({ length: 100 }, (_, n) => ({
    id: `practice-b1-${n}`,
    at: at(n),
    bench_number: 1,
    race_s: 15,
    state: Math.floor(n / 10) + 1,
    fitting: Math.floor(n / 10) + 1,
    distance_m: 120 + ((n * 7919) % 97) / 10,
    guess_m: 120,
    counts: true,
  }));
  const tens = Array.from({ length: 10 }, (_, n) => n);
  return {
    seq: 20_000,
    car_number: number,
    state: 10,
    fitting: 10,
    setup: setup(9),
    states: tens.map((n) => ({ state: n + 1, setup: setup(n), changed: n ? ['gear'] : [], runs: 10 })),
    steps: tens.map((n) => ({ state: n + 1, fitting: n + 1, at: at(10 * n) })),
    runs,
    best: runs[42],
    plans: [],
  };
};

const answer = (route: Route, body: unknown) =>
  route.fulfill({ contentType: 'application/json', body: JSON.stringify(body) });

/** watch notes when an answer was here, and how long it took from there until all of it was painted. */
async function watch(page: Page, path: RegExp, drawn: string): Promise<void> {
  await page.addInitScript(
    ([path, drawn]) => {
      const seen = { came: 0, took: undefined as number | undefined, body: undefined as unknown, arcs: 0 };
      const arc = CanvasRenderingContext2D.prototype.arc;
      CanvasRenderingContext2D.prototype.arc = function (...given) {
        seen.arcs++;
        arc.apply(this, given);
      };
      Object.assign(window, { seen });
      const all = new Function('seen', `return (${drawn!})`) as (of: typeof seen) => boolean;
      const wait = () => {
        if (!all(seen)) return void requestAnimationFrame(wait);
        const painted = new MessageChannel();
        painted.port1.onmessage = () => (seen.took = performance.now() - seen.came);
        painted.port2.postMessage(0);
      };
      const real = window.fetch;
      window.fetch = async (...given) => {
        const got = await real(...given);
        if (!new RegExp(path!).test(got.url)) return got;
        seen.body = JSON.parse(await got.clone().text());
        seen.came = performance.now(); // its last byte is here
        seen.took = undefined;
        seen.arcs = 0;
        requestAnimationFrame(wait);
        return got;
      };
    },
    [path.source, drawn],
  );
}
const took = async (page: Page): Promise<number> => {
  const read = () => page.evaluate(() => (window as unknown as { seen: { took?: number } }).seen.took);
  await expect.poll(read, { timeout: 30_000 }).toBeDefined();
  return (await read())!;
};

async function slow(page: Page): Promise<void> {
  const cdp = await page.context().newCDPSession(page);
  await cdp.send('Emulation.setCPUThrottlingRate', { rate: 4 });
}

/**
 * shared is how many times longer the same work takes here than it would if nobody else wanted the processor: slices of
 * it one after the other, held against the quickest of them. The median of some tries, on a page that is not slowed:
 * what slows one stops it for most of the time, too.
 */
async function shared(page: Page): Promise<number> {
  const bare = await page.context().newPage();
  await bare.setContent('<p>nothing</p>');
  const tries = await bare.evaluate(() => {
    const slice = () => {
      const from = performance.now();
      let sum = 0;
      for (let n = 0; n < 400_000; n++) sum += Math.sqrt(n);
      return sum > 0 ? performance.now() - from : 0;
    };
    for (let n = 0; n < 30; n++) slice();
    return Array.from({ length: 7 }, () => {
      const took = Array.from({ length: 40 }, slice);
      return took.reduce((sum, one) => sum + one, 0) / (took.length * Math.min(...took));
    });
  });
  await bare.close();
  return tries.sort((a, b) => a - b)[Math.floor(tries.length / 2)]!;
}

/**
 * held fails where the best of some was too slow: the others met what the machine does for somebody else, or code that
 * ran for the first time. Where others have some of the machine, a picture waits for more than the page's own
 * processor, and twice the time is let pass.
 */
async function held(page: Page, what: string, all: number[]): Promise<void> {
  const longer = await shared(page);
  const bound = boundMs * (longer > 1.2 ? 2 * longer : 1);
  const says = `${what}: ${all.map(Math.round).join(' ')} ms, where all takes ${longer.toFixed(1)} times longer`;
  console.log(says);
  expect(Math.min(...all), says).toBeLessThanOrEqual(bound);
}

test('the class of a season is drawn within a fifth of a second', async ({ page }) => {
  test.setTimeout(180_000);
  await page.setViewportSize({ width: 1280, height: 800 });
  // No two answers are alike, so that each is seen to be drawn.
  let asked = 0;
  await page.route('**/api/v1/practice/class*', (route) =>
    answer(
      route,
      route.request().url().includes(session) ? classOf(5, 8 + (asked++ % 2)) : classOf(200, 2000 + (asked++ % 2)),
    ),
  );
  await watch(
    page,
    /\/practice\/class(\?|$)/,
    `seen.arcs > 0.9 * seen.body.points.length && document
       .querySelector('.class [role=status]')?.textContent
       .startsWith(seen.body.points.length.toLocaleString('en-GB') + ' points of ' + seen.body.cars)`,
  );
  await page.goto(`${hall.address}/practice/class`);
  await took(page);
  await slow(page);
  const all: number[] = [];
  for (let round = 0; round < rounds; round++) {
    for (const [key, cars] of [
      ['Today alone', '5 cars'],
      ['All afternoons', '200 cars'],
    ] as const) {
      await page.evaluate(() => void ((window as unknown as { seen: { took?: number } }).seen.took = undefined));
      await page.getByRole('button', { name: key }).click();
      await expect(page.getByText(`points of ${cars}`, { exact: false })).toBeVisible();
      const ms = await took(page);
      if (cars === '200 cars') all.push(ms);
    }
  }
  await expect(page.getByRole('table', { name: 'Every point' }).getByRole('row').nth(50)).toBeVisible();
  await held(page, 'the class of 2,000 points', all);
});

test('a car of a season is drawn within a fifth of a second', async ({ page }) => {
  test.setTimeout(180_000);
  await page.setViewportSize({ width: 360, height: 740 });
  await page.route('**/api/v1/practice/cars/7', (route) => answer(route, lifeOf(7)));
  await page.route('**/api/v1/practice/cars/7/compared*', (route) => route.fulfill({ status: 503, body: '' }));
  await watch(
    page,
    /\/practice\/cars\/7$/,
    `document.querySelectorAll('svg[role=img] circle').length >= 99 && document.querySelectorAll('tbody tr').length > 0`,
  );
  await slow(page);
  const all: number[] = [];
  for (let round = 0; round < rounds; round++) {
    await page.goto(`${hall.address}/practice/cars/7`);
    all.push(await took(page));
    // What is far down the page comes after it.
    await expect(page.locator('tbody tr')).toHaveCount(100);
    await expect(page.getByRole('img', { name: 'The page of car 7' })).toBeAttached();
  }
  await held(page, 'a car with 100 runs in 10 builds', all);
});
