import AxeBuilder from '@axe-core/playwright';
import { expect, type Page } from '@playwright/test';

/**
 * clean fails if axe finds anything on the page as it is. Axe would open a page of its
 * own each time to put the findings of frames together, which takes longer than to look;
 * no page of ours has frames.
 */
export async function clean(page: Page): Promise<void> {
  expect(page.frames()).toHaveLength(1);
  const { violations } = await new AxeBuilder({ page }).setLegacyMode().analyze();
  expect(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).join('; ')}`)).toEqual([]);
}
