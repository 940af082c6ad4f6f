import { expect, type Page } from '@playwright/test';
import type { Hall } from './bench-hall';

type Named = { id: string; name?: string };

/** idsOf are the ids of what a meet has: heats, runs, entries, benches, and divisions that are called otherwise. */
export async function idsOf(hall: Hall, meet: string): Promise<string[]> {
  const path = `/meets/${meet}`;
  const of = await hall.ask<{ divisions: Named[]; benches: Named[] }>('GET', path);
  const { heats } = await hall.ask<{ heats: Named[] }>('GET', `${path}/heats`);
  const { runs } = await hall.ask<{ runs: Named[] }>('GET', `${path}/runs`);
  const { entries } = await hall.ask<{ entries: Named[] }>('GET', `${path}/entries`);
  const ids = [...of.divisions, ...of.benches, ...heats, ...runs, ...entries].filter((one) => one.id !== one.name);
  return ids.map((one) => one.id);
}

/**
 * saysNoID holds that nothing on a page says an id, nor its title, nor what is read out or shown at the pointer.
 * An address that has to be typed holds one.
 */
export async function saysNoID(page: Page, ids: string[]): Promise<void> {
  expect(ids.length).toBeGreaterThan(5);
  await expect(page.getByText(/^(Asking|Waiting for) the server/)).toHaveCount(0);
  const aside = await page.evaluate(() => {
    const names = ['aria-label', 'aria-description', 'title', 'alt', 'placeholder'];
    const all = document.querySelectorAll(names.map((name) => `[${name}]`).join());
    return [document.title, ...[...all].flatMap((each) => names.map((name) => each.getAttribute(name) ?? ''))];
  });
  const text = [await page.locator('body').innerText(), ...aside]
    .join('\n')
    .replaceAll(/https?:\/\/\S+|\S*\/(?:bench|m)\/\S+/g, '');
  expect(text).toMatch(/\w{3}/);
  const said = text.split(/[^\p{L}\p{N}._-]+/u).filter((word) => ids.includes(word.replace(/[._-]+$/, '')));
  expect.soft(said, page.url()).toEqual([]);
}
