import { expect, test } from '@playwright/test';
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { lifeIn, shot } from './afternoon-hall';
import { Hall } from './bench-hall';
import { clean } from './clean';

test.use({ viewport: { width: 360, height: 740 }, hasTouch: true });

// The program beside a counter box is a real one; the box is a pretended one that is always there.
let hall: Hall;
let spool: string;
let key: string;
const nodes: ChildProcess[] = [];
test.beforeAll(async () => {
  test.setTimeout(120_000);
  hall = await Hall.open();
  spool = mkdtempSync(join(tmpdir(), 'benchmeet-e2e-spool-'));
  await hall.addBenches(1, 2);
  key = await hall.boxKey('b1');
});
test.afterAll(async () => {
  await Promise.all(nodes.map(end));
  await hall.close();
  rmSync(spool, { recursive: true, force: true });
});

function begin(): ChildProcess {
  const node = spawn(
    hall.binary,
    ['node', '--server', hall.address, '--bench', 'b1', '--simulate', '6300', '--spool', spool],
    { env: { ...process.env, BENCHMEET_TOKEN: key }, stdio: 'ignore' },
  );
  nodes.push(node);
  return node;
}

async function end(node: ChildProcess): Promise<void> {
  if (node.exitCode !== null || node.signalCode !== null) return;
  const ended = new Promise((done) => node.once('exit', done));
  node.kill('SIGTERM');
  await ended;
}

test('a silent counter box is said before any run, and in an afternoon', async ({ page }) => {
  test.setTimeout(120_000);
  const notHeard = page.getByText('The counter box has not been heard yet. Is it on?');
  const silent = page.getByText('The counter box is silent.');

  await page.goto((await hall.signIn()).replace('/desk#', '/bench/b1#'));
  await expect(notHeard).toBeVisible({ timeout: 30_000 });
  await expect(silent).toHaveCount(0);
  await shot(page, 'box-1-not-heard');
  let node = begin();
  await expect(notHeard).toHaveCount(0, { timeout: 10_000 });

  // Nobody has asked for a run.
  await end(node);
  await expect(silent).toBeVisible({ timeout: 3_000 });
  await expect(page.getByText('Is the computer beside it on, and in the network?', { exact: false })).toBeVisible();
  await shot(page, 'box-2-silent');
  await clean(page);
  node = begin();
  await expect(silent).toHaveCount(0, { timeout: 10_000 });

  // In an afternoon, while the bench waits for a car.
  await page.getByRole('button', { name: 'Open a practice afternoon here' }).click();
  await page.getByRole('button', { name: '7', exact: true }).click();
  await end(node);
  await page.getByRole('button', { name: 'Queue up' }).click();
  await expect(page.getByText('Put car 7 on. Hold it. Let go.')).toBeVisible();
  await expect(silent).toBeVisible({ timeout: 3_000 });
  await expect(page.getByText('What it counted is kept.', { exact: false })).toBeVisible();
  await shot(page, 'box-3-armed');
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  await clean(page);
  begin();
  await expect(silent).toHaveCount(0, { timeout: 10_000 });
  // It counts the run at once, and is heard while it does.
  await expect.poll(async () => (await lifeIn(hall, 7)).runs.length, { timeout: 60_000 }).toBeGreaterThan(0);
  await expect(silent).toHaveCount(0);

  // A bench without a box has none to be silent.
  await page.goto(`${hall.address}/bench/b2`);
  await expect(page.getByText('No car is called to this bench.')).toBeVisible();
  await page.waitForTimeout(4_000);
  await expect(page.getByText('counter box', { exact: false }).filter({ hasText: /silent|heard/ })).toHaveCount(0);
});
