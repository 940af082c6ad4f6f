import { expect, test } from '@playwright/test';
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Hall } from './bench-hall';

const folder = fileURLToPath(new URL('../../deploy/counterbox', import.meta.url));
const cyclesPerS = 16_000_000;

/**
 * Board is the counter box's own program on an emulated board, at a serial line. A roller
 * turns at its first sensor from two seconds after the power on.
 */
class Board {
  private constructor(
    private readonly process: ChildProcess,
    readonly line: string,
  ) {}

  static async powerOn(rpm: number, seconds: number): Promise<Board> {
    execFileSync('make', ['-s', '-C', folder, 'all']);
    const board = spawn(join(folder, 'build/board'), ['--pty', join(folder, 'build/counterbox.elf')]);
    const period = (cyclesPerS * 60) / rpm;
    let script = '';
    for (let at = 2 * cyclesPerS; at < seconds * cyclesPerS; at += period)
      script += `${Math.round(at)} pin 0 0\n${Math.round(at + period / 10)} pin 0 1\n`;
    board.stdin.on('error', () => undefined); // it may be switched off before it has read all
    board.stdin.end(`${script}${seconds * cyclesPerS} end\n`);
    const line = await new Promise<string>((found, failed) => {
      board.stderr.on('data', (text: Buffer) => {
        const said = /pty (\S+)/.exec(text.toString());
        if (said) found(said[1]!);
      });
      board.on('exit', (code) => failed(new Error(`the board ended with ${code}`)));
    });
    return new Board(board, line);
  }

  async powerOff(): Promise<void> {
    this.process.removeAllListeners('exit');
    if (this.process.exitCode !== null) return;
    const ended = new Promise((done) => this.process.once('exit', done));
    this.process.kill('SIGTERM');
    await ended;
  }
}

test('from the sensor of a board to the number on a phone', async ({ page }) => {
  test.setTimeout(180_000);
  const hall = await Hall.open();
  const spool = mkdtempSync(join(tmpdir(), 'benchmeet-e2e-spool-'));
  let board: Board | undefined;
  let node: ChildProcess | undefined;
  try {
    await hall.addBenches(1);
    board = await Board.powerOn(6300, 150);
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
