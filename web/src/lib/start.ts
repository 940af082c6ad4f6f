import './ahead/now';
import { root } from './ahead/root';
import './base.css';
import { mount, type Component } from 'svelte';
import { insist } from './again';
import { choose, spoken } from './i18n';
import { wanted } from './i18n/choice';
import { look } from './look';

/** How long a page is not drawn, for what it would be drawn again for, in ms. */
const worthWaitingMs = 500;

/**
 * start draws a face into its page once its language is there, and its first page,
 * which `first` begins to load. Until then the page shows what its HTML says. `facts`
 * asks for what the page shows first; where that is there soon, the page is drawn once,
 * with it, and not empty before.
 */
export async function start(
  face: Component,
  first?: () => Promise<unknown>,
  facts?: () => Promise<unknown>,
): Promise<void> {
  const query = new URLSearchParams(location.search);
  look.begin(query.get('look'));
  choose(wanted(query.get('lang'), navigator.languages));
  // A page that does not come says so itself, once the face is drawn.
  const page = first?.().catch(() => {});
  try {
    await Promise.all([spoken(), root && import('./links').then(({ leadLinks }) => leadLinks())]);
  } catch {
    return loadAgain();
  }
  const asked = facts?.();
  await page;
  await Promise.race([asked?.catch(() => {}), new Promise((done) => setTimeout(done, asked && worthWaitingMs))]);
  const target = document.getElementById('app')!;
  target.replaceChildren();
  mount(face, { target });
}

/** loadAgain waits for the server and loads the page anew: not every browser asks twice for a script. */
function loadAgain(): void {
  insist(async () => {
    const there = await fetch(location.href, { method: 'HEAD', cache: 'no-store' });
    if (there.ok) location.reload();
    return there.ok;
  });
}
