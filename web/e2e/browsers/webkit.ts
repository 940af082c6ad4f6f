import { spawn, type ChildProcess } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import type { Readable } from 'node:stream';
import { Builder, Capabilities, Key, Origin, type WebDriver } from 'selenium-webdriver';
import { Driven } from './driven';

/**
 * WebKit is the engine of Debian's webkit2gtk in its MiniBrowser, driven over WebDriver. It cannot do without a
 * window here: it has one on a screen that is only memory.
 */
export class WebKit extends Driven {
  private constructor(
    private readonly driver: WebDriver,
    private readonly processes: ChildProcess[],
  ) {
    super();
  }

  static async start(): Promise<WebKit> {
    const screen = spawn('Xvfb', ['-displayfd', '3', '-screen', '0', '2200x2200x24'], {
      stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
    });
    const display = await new Promise<string>((found, failed) => {
      screen.on('error', failed);
      (screen.stdio[3] as Readable).once('data', (number: Buffer) => found(`:${number.toString().trim()}`));
    });
    const port = await freePort();
    const server = spawn('WebKitWebDriver', [`--port=${port}`], {
      env: { ...process.env, DISPLAY: display, LIBGL_ALWAYS_SOFTWARE: '1' },
      stdio: 'ignore',
    });
    await listens(port);
    const wanted = new Capabilities({
      browserName: 'MiniBrowser',
      'webkitgtk:browserOptions': { binary: miniBrowser(), args: ['--automation'] },
    });
    const driver = await new Builder().usingServer(`http://127.0.0.1:${port}`).withCapabilities(wanted).build();
    return new WebKit(driver, [server, screen]);
  }

  open(address: string) {
    return this.driver.get(address);
  }
  async size(width: number, height: number) {
    const window = this.driver.manage().window();
    await window.setRect({ x: 0, y: 0, width, height });
    // The bars of the window take their part.
    const shown = await this.look(() => [innerWidth, innerHeight] as const);
    await window.setRect({ x: 0, y: 0, width: 2 * width - shown[0], height: 2 * height - shown[1] });
  }
  keys(text: string) {
    return this.driver.actions().sendKeys(text).perform();
  }
  key(named: 'Tab' | 'Enter' | 'Escape') {
    return this.keys({ Tab: Key.TAB, Enter: Key.ENTER, Escape: Key.ESCAPE }[named]);
  }
  back() {
    return this.driver.navigate().back();
  }
  async picture() {
    return Buffer.from(await this.driver.takeScreenshot(), 'base64');
  }
  async close() {
    await this.driver.quit();
    for (const each of this.processes) {
      const ended = new Promise((done) => each.once('exit', done));
      each.kill();
      await ended;
    }
  }
  protected clickAt(x: number, y: number) {
    return this.driver.actions().move({ x, y, origin: Origin.VIEWPORT, duration: 0 }).click().perform();
  }
  look<A extends unknown[], T>(inPage: (...args: A) => T, ...args: A): Promise<T> {
    return this.driver.executeScript(`return (${inPage.toString()})(...arguments)`, ...args);
  }
}

function miniBrowser(): string {
  const found = readdirSync('/usr/lib')
    .map((each) => `/usr/lib/${each}/webkit2gtk-4.1/MiniBrowser`)
    .find((each) => existsSync(each));
  if (!found) throw new Error('no MiniBrowser: install webkit2gtk-driver (make setup)');
  return found;
}

function freePort(): Promise<number> {
  return new Promise((found) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo;
      server.close(() => found(port));
    });
  });
}

/** listens waits, for at most 15 s, until the driver answers on its port. */
async function listens(port: number): Promise<void> {
  const end = Date.now() + 15_000;
  for (;;) {
    try {
      await fetch(`http://127.0.0.1:${port}/status`);
      return;
    } catch (failed) {
      if (Date.now() > end) throw failed;
      await new Promise((done) => setTimeout(done, 100));
    }
  }
}
