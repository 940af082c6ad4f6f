import { execFile, spawn, type ChildProcess } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { Board } from './board';
import { clean } from './clean';
import { letters, printed } from './pdf';

test.describe.configure({ mode: 'serial' });

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3, 4);
});
test.afterAll(() => hall.close());

const open = async (page: Page) => {
  await page.goto(`${hall.address}/box`);
  await expect(page.getByRole('heading', { name: 'Build a counter box' })).toBeVisible();
};

test('the page for builders: nothing for axe, and as wide as a phone', async ({ page }) => {
  test.setTimeout(180_000); // axe reads every element, on a busy machine
  for (const viewport of [
    { width: 1440, height: 900 },
    { width: 390, height: 844 },
  ]) {
    await page.setViewportSize(viewport);
    await open(page);
    await expect(page.getByRole('img')).toHaveCount(13); // four drawings, nine plots
    await expect
      .poll(() => page.evaluate(() => document.documentElement.scrollWidth))
      .toBeLessThanOrEqual(viewport.width);
    await clean(page);
  }
  // What the tests of the box's program hold stands here.
  for (const figure of ['more than 28 µs', 'within 27 µs', 'at most 11 % full with one mark each, 40 % with four'])
    await expect(page.getByText(figure)).toBeVisible();
});

test('on paper: A4 and A3, no letter below 9 pt, no colour, and all faults on one sheet', async ({ page }) => {
  test.setTimeout(120_000);
  await open(page);
  await page.evaluate(() => document.fonts.ready);
  expect((await letters(page)).smallest).toBeGreaterThanOrEqual(8.99);
  for (const format of ['A4', 'A3'] as const) {
    const pages = await printed(page, format, 'box');
    for (const [i, one] of pages.entries()) {
      const what = `${format} page ${i + 1} of ${pages.length}`;
      expect(one.text, what).toContain(`page ${i + 1} of ${pages.length}`);
      expect(one.over, what).toEqual([]);
      expect(one.colour, what).toBeLessThanOrEqual(3);
      expect(Math.min(one.left, one.top, one.width - one.right, one.height - one.bottom), what).toBeGreaterThan(14);
    }
    const faults = pages.filter((one) => one.flow.includes('NOT GOOD.'));
    expect(faults, format).toHaveLength(1);
  }
});

/**
 * Newcomer is who types what stands on the page, with the port of the board, the address of the server and the binary
 * in the place of those that are printed there.
 */
class Newcomer {
  readonly folder = mkdtempSync(join(tmpdir(), 'benchmeet-newcomer-'));

  constructor(
    private readonly page: Page,
    private readonly board: Board,
    private readonly token: string,
  ) {
    symlinkSync(hall.binary, join(this.folder, 'benchmeet'));
  }

  async typed(name: string): Promise<string> {
    const text = (await this.page.locator(`code[data-command=${name}]`).textContent())!;
    this.left.delete(name);
    return text.replace('/dev/ttyUSB0', this.board.line).replace('http://192.0.2.7:8080', hall.address);
  }

  readonly left = new Set<string>();
  async begin(): Promise<void> {
    for (const name of await this.page
      .locator('code[data-command]')
      .evaluateAll((all) => all.map((one) => (one as HTMLElement).dataset['command']!)))
      this.left.add(name);
  }

  private get options() {
    return {
      cwd: this.folder,
      env: { PATH: `${this.folder}:/usr/bin:/bin`, BENCHMEET_TOKEN: this.token },
    };
  }

  /** runs types a command and gives what it said and the code that it ended with. */
  async runs(name: string, meanwhile?: (said: string) => void): Promise<{ said: string; code: number | null }> {
    const command = await this.typed(name);
    return new Promise((done) => {
      const child = execFile('/bin/sh', ['-c', command], { ...this.options, timeout: 90_000 }, (_, out, err) =>
        done({ said: out + err, code: child.exitCode }),
      );
      child.stdout!.on('data', (text: Buffer) => meanwhile?.(text.toString()));
      child.stderr!.on('data', (text: Buffer) => meanwhile?.(text.toString()));
    });
  }

  /** starts types a command that goes on. */
  async starts(name: string): Promise<ChildProcess> {
    return spawn('/bin/sh', ['-c', `exec ${await this.typed(name)}`], { ...this.options, stdio: 'ignore' });
  }

  leave(): void {
    rmSync(this.folder, { recursive: true });
  }
}

const ended = async (child: ChildProcess) => {
  const end = new Promise((done) => child.once('exit', done));
  child.kill('SIGTERM');
  await end;
};

test('a newcomer types every command of the page, with an emulated board at the port', async ({ page }) => {
  test.setTimeout(300_000);
  const { secret } = await hall.ask<{ secret: string }>('POST', '/tokens', {
    role: 'box',
    label: 'box of table 1',
    benches: ['b1', 'b2', 'b3', 'b4'],
  });
  const board = await Board.powerOn();
  await open(page);
  const newcomer = new Newcomer(page, board, secret);
  await newcomer.begin();
  try {
    // The files are those of the page; the checksums agree.
    for (const file of ['counterbox.hex', 'SHA256SUMS', 'load.sh', 'load.cmd']) {
      const download = page.waitForEvent('download');
      await page.getByRole('link', { name: file }).click();
      await (await download).saveAs(join(newcomer.folder, file));
    }
    chmodSync(join(newcomer.folder, 'load.sh'), 0o700);
    const sums = await newcomer.runs('sums');
    expect(sums).toEqual({ said: 'counterbox.hex: OK\nload.sh: OK\nload.cmd: OK\n', code: 0 });

    // No port comes while it is looked for: an emulated board has none that the system lists.
    const find = await newcomer.starts('find');
    expect(find.exitCode).toBeNull();
    await ended(find);

    expect((await newcomer.runs('show')).said).toContain('inputs 1, baud 115200');
    const four = await newcomer.runs('four');
    expect(four.said).toContain('kept, starting again');
    expect(four.said).toContain('input 4: pin 3, a mark is low, marks 1');
    expect((await newcomer.runs('high')).said).toContain('The box has started again.');
    expect((await newcomer.runs('name')).said).toBe('kept\nkept\n');
    expect((await newcomer.runs('restart')).said).toContain('The box has started again.');
    expect((await newcomer.runs('show')).said).toContain('input 1: pin 0, a mark is high, marks 1, bench b1');

    // Twenty turns by hand at the second sensor.
    const count = await newcomer.runs('count', (said) => {
      if (said.includes('pencil')) board.turn(2, 240, 20);
    });
    expect(count.said).toContain('this is input 2: 1\n');
    expect(count.said).toContain('Input 2: 20 marks counted, 20 turns.');
    expect(count.code).toBe(0);

    // The same at the first, with a tape over the roller.
    const roll = await newcomer.runs('roll', (said) => {
      if (said.includes('pencil')) board.turn(1, 240, 20);
    });
    expect(roll.said).toContain('1885 mm / 20 = 94.250 mm');
    expect(roll.said).toContain('1 mm / (20 * 1.732) = 0.029 mm');
    expect(roll.code).toBe(0);

    const check = await newcomer.runs('check', (said) => {
      if (said.includes('full speed')) board.turn(1, 6300, 2500);
    });
    expect(check.said).toContain('GOOD. This signal is counted right');
    expect(check.code).toBe(0);

    for (const name of ['one', 'several']) {
      const node = await newcomer.starts(name);
      try {
        for (const bench of name === 'one' ? [1] : [1, 3]) {
          await hall.ask('POST', `/benches/b${bench}/practice`, { car_number: 20 + bench, race_s: 3 });
          // Once the node has its order, asked for every second or so, the roller turns.
          await expect
            .poll(
              async () => {
                board.turn(bench, 6300, 200);
                const { runs } = await hall.ask<{ runs: { bench: string; figures: { turns: number } }[] }>(
                  'GET',
                  '/practice',
                );
                return runs.filter((run) => run.bench === `b${bench}` && run.figures.turns > 100).length;
              },
              { timeout: 60_000, intervals: [1000] },
            )
            .toBeGreaterThan(name === 'several' && bench === 1 ? 1 : 0);
        }
      } finally {
        await ended(node);
      }
    }
    expect([...newcomer.left]).toEqual([]);
  } finally {
    await board.powerOff();
    newcomer.leave();
  }
});
