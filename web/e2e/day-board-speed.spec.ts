import { expect, test, type BrowserContext, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { planBoard } from './board-hall';

/** A key or a pull is to be answered on the screen within so many ms, on a processor that is four times slower. */
const boundMs = 100;
/** A page that does nothing answers within a frame and a half, slowed so, where nobody else wants the processor. */
const idleMs = 25;

const meet = 'great';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(300_000);
  hall = await Hall.open();
  await planBoard(hall, meet, 24, ['Minis 4 to 6', 'Juniors 7 to 9', 'Seniors 10 to 12', 'Teens 13 to 15'], 100);
  for (const heat of ['d1-1.1.1', 'd1-1.1.2', 'd2-1.1.1']) await hall.call(meet, heat);
});
test.afterAll(() => hall.close());

/** answers notes from each key, press and pull to the frame that follows it, in ms. */
async function answers(page: Page): Promise<() => Promise<Record<string, number[]>>> {
  await page.evaluate(() => {
    const took: Record<string, number[]> = {};
    for (const type of ['keydown', 'pointerdown', 'pointermove', 'pointerup'])
      addEventListener(
        type,
        (event) => {
          if ((event as KeyboardEvent).key === 'Shift') return; // nothing is to come of it alone
          requestAnimationFrame(() => {
            const painted = new MessageChannel();
            painted.port1.onmessage = () => (took[type] ??= []).push(performance.now() - event.timeStamp);
            painted.port2.postMessage(0);
          });
        },
        true,
      );
    Object.assign(window, { took });
  });
  return () => page.evaluate(() => (window as unknown as { took: Record<string, number[]> }).took);
}

const sorted = (of: number[]) => [...of].sort((a, b) => a - b);
const at = (of: number[], share: number) => sorted(of)[Math.min(of.length - 1, Math.floor(of.length * share))]!;

async function slow(page: Page) {
  const cdp = await page.context().newCDPSession(page);
  await cdp.send('Emulation.setCPUThrottlingRate', { rate: 4 });
}

/** measured are the answers to keys and pulls in both views of the board, in ms. */
async function measured(page: Page): Promise<Record<string, number[]>> {
  await page.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}/times#`));
  const figures: Record<string, number[]> = {};
  for (const view of ['Next hour', 'Rest of the day']) {
    await page.getByRole('button', { name: view }).click();
    const board = page.getByRole('listbox', { name: /^Board of/ });
    await expect(board.locator('[data-key]').nth(50)).toBeAttached({ timeout: 30_000 });
    await board.focus();
    // What the page reads when it is opened is here.
    await page.waitForTimeout(3000);
    await slow(page);
    const read = await answers(page);
    for (const key of ['ArrowRight', 'ArrowDown', 'ArrowRight', 'ArrowRight', 'ArrowUp'])
      for (let n = 0; n < 4; n++) await page.keyboard.press(key);
    for (const key of ['Shift+ArrowRight', 'Shift+ArrowLeft'])
      for (let n = 0; n < 4; n++) await page.keyboard.press(key);
    for (let drag = 0; drag < 5; drag++) {
      const bar = board.locator('.likely, .told').nth(6 + drag);
      await bar.scrollIntoViewIfNeeded();
      const from = (await bar.boundingBox())!;
      await page.mouse.move(from.x + 2, from.y + 8);
      await page.mouse.down();
      for (let n = 1; n <= 8; n++) {
        await page.mouse.move(from.x + 2 + n * 10, from.y + 8);
        await page.waitForTimeout(50);
      }
      await page.mouse.up();
      await page.waitForTimeout(1500);
    }
    await page.waitForTimeout(500);
    for (const [type, took] of Object.entries(await read())) (figures[type] ??= []).push(...took);
    await page.reload();
  }
  return figures;
}

/** idling is the answer of a page that does nothing to the same, on the same busy machine: the median in ms. */
async function idling(context: BrowserContext): Promise<number> {
  const bare = await context.newPage();
  await bare.setContent('<div tabindex="0" style="height:600px">nothing</div>');
  await bare.locator('div').focus();
  await slow(bare);
  const floor = await answers(bare);
  for (let n = 0; n < 20; n++) {
    await bare.keyboard.press('ArrowRight');
    await bare.mouse.move(100 + n, 100);
  }
  await bare.waitForTimeout(300);
  const idle = at(Object.values(await floor()).flat(), 0.5);
  await bare.close();
  return idle;
}

test('the board of 400 cars on 24 benches answers each key and drag at once', async ({ page, context }) => {
  test.setTimeout(400_000);
  await page.setViewportSize({ width: 1280, height: 900 });
  let late: string[] = [];
  // The best of three times, and of each the median: others may want the machine meanwhile.
  for (let time = 0; time === 0 || (late.length > 0 && time < 3); time++) {
    const before = await idling(context);
    const figures = await measured(page);
    const idle = Math.max(before, await idling(context));
    const bound = boundMs * Math.max(1, idle / idleMs);
    expect(Object.keys(figures).sort()).toEqual(['keydown', 'pointerdown', 'pointermove', 'pointerup']);
    late = [];
    for (const [type, took] of Object.entries(figures)) {
      console.log(
        `${type}: median ${at(took, 0.5).toFixed(0)} ms, four of five ${at(took, 0.8).toFixed(0)} ms, most ${at(took, 1).toFixed(0)} ms of ${took.length}; a page that does nothing ${idle.toFixed(0)} ms`,
      );
      if (at(took, 0.5) > bound) late.push(`${type}: ${sorted(took).map(Math.round).join(' ')}`);
    }
  }
  expect(late).toEqual([]);
});
