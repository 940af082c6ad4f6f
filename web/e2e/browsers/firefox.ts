import puppeteer, { type Browser, type Page } from 'puppeteer-core';
import { Driven } from './driven';

/** Firefox is Debian's firefox-esr, driven over WebDriver BiDi. */
export class Firefox extends Driven {
  private constructor(
    private readonly browser: Browser,
    private readonly page: Page,
  ) {
    super();
  }

  static async start(): Promise<Firefox> {
    const browser = await puppeteer.launch({
      browser: 'firefox',
      executablePath: process.env['FIREFOX'] ?? '/usr/bin/firefox-esr',
      headless: true,
    });
    return new Firefox(browser, await browser.newPage());
  }

  async open(address: string) {
    await this.page.goto(address);
  }
  size(width: number, height: number) {
    return this.page.setViewport({ width, height });
  }
  keys(text: string) {
    return this.page.keyboard.type(text);
  }
  key(named: 'Tab' | 'Enter' | 'Escape') {
    return this.page.keyboard.press(named);
  }
  async back() {
    await this.page.goBack();
  }
  async picture() {
    return Buffer.from(await this.page.screenshot());
  }
  close() {
    return this.browser.close();
  }
  protected clickAt(x: number, y: number) {
    return this.page.mouse.click(x, y);
  }
  look<A extends unknown[], T>(inPage: (...args: A) => T, ...args: A): Promise<T> {
    return this.page.evaluate(inPage as (...args: unknown[]) => T, ...args) as Promise<T>;
  }
}
