import { expect, test, type Page } from '@playwright/test';
import { CounterBox, type Hall } from './bench-hall';
import { idsOf, saysNoID } from './ids';
import { benches, call, everyone, fullHall, heat, raceWhole, start } from './wall-hall';

// Full halls of ten benches and forty cars: one with five in a heat, which two heats fill, and one with two in a heat.
let hall: Hall;
let pairs: Hall;

test.beforeAll(async () => {
  test.setTimeout(180_000);
  hall = await fullHall(5);
  pairs = await fullHall(2);
});
test.afterAll(() => Promise.all([hall.close(), pairs.close()]));

const walls = [
  [1920, 1080],
  [1280, 720],
  [1080, 1920],
] as const;

const region = (page: Page, name: string) => page.getByRole('region', { name });

/** onWall is the start numbers whose whole rows a part of the wall shows now, with the size of their names’ letters. */
const onWall = (page: Page, name: string) =>
  region(page, name).evaluate((part) => {
    const seen: { number: number; px: number }[] = [];
    const clips = (each: Element) => getComputedStyle(each).overflowY === 'hidden';
    for (const racer of part.querySelectorAll<HTMLElement>('.racer .number')) {
      const name = racer.parentElement!.querySelector<HTMLElement>('.name')!;
      const line = racer.closest('li') ?? racer;
      const row = line.getBoundingClientRect();
      const letters = name.getBoundingClientRect();
      let whole =
        row.height > 0 &&
        row.bottom <= innerHeight + 1 &&
        row.top >= 0 &&
        letters.top >= row.top - 1 &&
        letters.bottom <= row.bottom + 1 &&
        letters.right <= Math.min(row.right, innerWidth) + 1 &&
        name.scrollWidth <= name.clientWidth + 1;
      for (let up = racer.parentElement; up && whole; up = up.parentElement) {
        const box = up.getBoundingClientRect();
        if (clips(up) && (row.bottom > box.bottom + 2 || row.top < box.top - 2)) whole = false;
      }
      if (whole)
        seen.push({
          number: Number(racer.querySelector('[aria-hidden]')!.textContent),
          px: parseFloat(getComputedStyle(name).fontSize),
        });
    }
    return seen;
  });

/** allSeen waits until all of these have been seen, on whichever page, and none smaller than they may be. */
async function allSeen(page: Page, name: string, wanted: number[], withinMs: number, leastPx: number) {
  const missing = new Set(wanted);
  const until = Date.now() + withinMs;
  while (missing.size > 0 && Date.now() < until) {
    const seen = await onWall(page, name);
    for (const { number, px } of seen) {
      expect(px).toBeGreaterThanOrEqual(leastPx);
      missing.delete(number);
    }
    if (missing.size > 0) await page.waitForTimeout(300);
  }
  expect([...missing], `not seen in ${name} within ${withinMs / 1000} s`).toEqual([]);
}

const leastPx = (width: number, height: number) => (Math.max(width, height) >= 1920 ? 30 : 20);

async function open(page: Page, at: Hall, width: number, height: number) {
  await page.setViewportSize({ width, height });
  await page.goto(at.address + '/m/spring');
  await expect(page.getByText('Live', { exact: true })).toBeVisible();
}

test('before the first race all who are called are on the wall', async ({ page }) => {
  const called = await call(hall, 1, 2);
  for (const [width, height] of walls) {
    await open(page, hall, width, height);
    await allSeen(page, 'Come to your bench', called, 10_000, leastPx(width, height));
  }
});

test('while two heats race and two are called, all called are on the wall', async ({ page }) => {
  const racing = await start(pairs, [1, 2]);
  const called = await call(pairs, 3, 4);
  for (const [width, height] of walls) {
    await open(page, pairs, width, height);
    await allSeen(page, 'Come to your bench', called, 10_000, leastPx(width, height));
    await allSeen(page, 'Racing now', racing, 1_000, leastPx(width, height));
  }
});

test('while ten cars race, all results and all standings are on the wall in a minute', async ({ page }) => {
  test.setTimeout(300_000);
  const through = await raceWhole(hall, [1, 2]);
  const racing = await start(hall, [3, 4]);
  for (const [width, height] of walls) {
    await open(page, hall, width, height);
    const px = leastPx(width, height);
    await allSeen(page, 'Racing now', racing, 1_000, px);
    await Promise.all([
      allSeen(page, 'Standings', everyone, 60_000, px),
      allSeen(page, 'Newest results', through, 60_000, px),
    ]);
  }
});

test('no wall says an id, whether it was opened by the short address or by that of the race day', async ({ page }) => {
  test.setTimeout(120_000);
  await raceWhole(hall, [1]);
  await start(hall, [3]);
  await start(pairs, [1, 2]);
  await call(pairs, 3);
  for (const at of [hall, pairs]) {
    const ids = await idsOf(at, 'spring');
    for (const [width, height] of walls)
      for (const path of ['/', '/m/spring']) {
        await page.setViewportSize({ width, height });
        await page.goto(at.address + path);
        await expect(page).toHaveURL(at.address + '/m/spring');
        await expect(page.getByText('Live', { exact: true })).toBeVisible();
        // racing, and raced or called
        await expect(region(page, 'Racing now').locator('.racer .number').first()).toBeVisible();
        await expect(region(page, at === hall ? 'Standings' : 'Come to your bench').locator('.racer')).not.toHaveCount(
          0,
        );
        await saysNoID(page, ids);
      }
  }
});

/** lines are those that a part of the wall shows now. */
const lines = (page: Page, name: string) =>
  region(page, name).evaluate((part) =>
    [...part.querySelectorAll<HTMLElement>('li, h3')]
      .filter((line) => line.getClientRects().length > 0 && !line.querySelector('li'))
      .map((line) => line.innerText.replace(/\s+/g, ' ')),
  );

/** turned are the lines that some parts of the wall show within a minute, whichever page they stand on. */
async function turned(page: Page, ...names: string[]): Promise<Record<string, string[]>> {
  const seen = names.map(() => new Set<string>());
  for (const until = Date.now() + 60_000; Date.now() < until; await page.waitForTimeout(500))
    for (const [i, name] of names.entries()) for (const line of await lines(page, name)) seen[i]!.add(line);
  return Object.fromEntries(names.map((name, i) => [name, [...seen[i]!].sort()]));
}

test('left open while eighteen heats are raced, two at a time and two called, it is as one just opened', async ({
  page,
  context,
}) => {
  test.setTimeout(300_000);
  const at = await fullHall(2, 4);
  try {
    await open(page, at, 1920, 1080);
    /** Runs of heats that race, by heat. */
    const under = new Map<number, { send(seconds: number): Promise<void> }[]>();
    const boxes = new Map(benches.map((bench) => [bench, new CounterBox(at, bench, 'spring')]));
    const begin = async (n: number) => {
      for (const [bench, lane] of Object.entries(await at.lanes('spring', heat(n))))
        await at.ready('spring', heat(n), bench, lane.racer.start_number);
      await at.start('spring', heat(n));
      const runs = Object.entries(await at.lanes('spring', heat(n))).map(([bench, lane]) =>
        boxes.get(bench)!.begin(lane.armed!, 4, 6000 + 10 * lane.racer.start_number),
      );
      for (const run of runs) await run.send(2);
      under.set(n, runs);
    };
    for (const n of [1, 2]) await at.call('spring', heat(n));
    for (let n = 1; n <= 20; n++) {
      await begin(n);
      if (n + 2 <= 20) await at.call('spring', heat(n + 2));
      if (n > 2) for (const run of under.get(n - 2)!) await run.send(2);
    }
    const fresh = await context.newPage();
    await open(fresh, at, 1920, 1080);
    // Speed is of the moment: a screen has it from the next stamps on.
    for (const n of [19, 20]) for (const run of under.get(n)!) await run.send(1);
    for (const each of [page, fresh])
      await expect
        .poll(async () => (await lines(each, 'Racing now')).filter((line) => / 2[678] m /.test(line)), {
          timeout: 15_000,
        })
        .toHaveLength(4);
    const parts = ['Racing now', 'Newest results', 'Standings'];
    const [left, now] = await Promise.all([turned(page, ...parts), turned(fresh, ...parts)]);
    expect(left['Standings']!.length).toBeGreaterThanOrEqual(40);
    expect(left['Newest results']!.length).toBeGreaterThan(10);
    expect(left).toEqual(now);
  } finally {
    await at.close();
  }
});
