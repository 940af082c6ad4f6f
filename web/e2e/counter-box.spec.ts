import { expect, test } from '@playwright/test';
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Hall } from './bench-hall';
import { Board } from './board';

test('from the sensor of a board to the number on a phone', async ({ page }) => {
  test.setTimeout(180_000);
  const hall = await Hall.open();
  const spool = mkdtempSync(join(tmpdir(), 'benchmeet-e2e-spool-'));
  let board: Board | undefined;
  let node: ChildProcess | undefined;
  try {
    await hall.addBenches(1);
    board = await Board.powerOn();
    board.turn(1, 6300, 6300 * 2.5);
    const token = await hall.boxKey('b1');
    node = spawn(
      hall.binary,
      ['node', '--server', hall.address, '--bench', 'b1', '--serial', board.line, '--spool', spool],
      {
        env: { ...process.env, BENCHMEET_TOKEN: token },
        stdio: 'ignore',
      },
    );

    const { link } = await hall.phoneFor('b1');
    await page.goto(link);
    await page.getByLabel('Car number').fill('12');
    await page.getByLabel('10', { exact: true }).check();
    await page.getByRole('button', { name: 'Go' }).click();
    // 105 turns of 94.25 mm a second.
    await expect(page.getByText('35.6 km/h').first()).toBeVisible({ timeout: 60_000 });
    // In ten seconds they make 99 m. The emulated board falls behind the clock on a busy machine, and then the page
    // says that nobody can say how far the distance is off: the stamps themselves are compared in deploy/counterbox.
    await expect(page.getByText(/^([5-9]\d|10[0-5])(\.\d+)?\s(±\s[\d.]+\s)?m$/)).toBeVisible({ timeout: 60_000 });
  } finally {
    if (node) {
      const ended = new Promise((done) => node!.once('exit', done));
      node.kill('SIGTERM');
      await ended;
    }
    await board?.powerOff();
    await hall.close();
    rmSync(spool, { recursive: true, force: true });
  }
});
