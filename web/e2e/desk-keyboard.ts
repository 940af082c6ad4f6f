import { expect, type Locator, type Page } from '@playwright/test';

/** Keyboard uses a page as somebody does who has no mouse: Tab, Enter, Escape and typing. */
export class Keyboard {
  constructor(readonly page: Page) {}

  /** to presses Tab until the thing has the focus; it fails if it cannot be reached. */
  async to(thing: Locator): Promise<void> {
    await expect(thing).toBeVisible();
    for (let presses = 0; presses < 150; presses++) {
      if (await thing.evaluate((element) => element === document.activeElement)) return;
      await this.page.keyboard.press('Tab');
    }
    throw new Error(`Tab never reaches ${thing}`);
  }

  async press(name: string | RegExp, within: Page | Locator = this.page): Promise<void> {
    await this.to(within.getByRole('button', { name, exact: typeof name === 'string' }).first());
    await this.page.keyboard.press('Enter');
  }

  async follow(name: string): Promise<void> {
    await this.to(this.page.getByRole('link', { name, exact: true }));
    await this.page.keyboard.press('Enter');
  }

  /** type replaces what stands in a field. */
  async type(label: string, text: string, within: Page | Locator = this.page): Promise<void> {
    await this.to(within.getByLabel(label, { exact: true }));
    await this.page.keyboard.press('Control+A');
    await this.page.keyboard.type(text);
  }

  /** choose takes an option of a list by typing its beginning. */
  async choose(label: string, option: string, within: Page | Locator = this.page): Promise<void> {
    const list = within.getByLabel(label, { exact: true });
    await this.to(list);
    await this.page.keyboard.type(option);
    await expect(list.locator('option:checked')).toHaveText(new RegExp(`^${option}`));
  }

  async tick(label: string, within: Page | Locator = this.page): Promise<void> {
    await this.to(within.getByLabel(label, { exact: true }));
    await this.page.keyboard.press('Space');
  }

  dialog(): Locator {
    return this.page.getByRole('dialog');
  }
}
