import { keep, kept } from './device';

/** Paper is light, ink is dark. */
export type LookName = 'paper' | 'ink';

const place = 'benchmeet-look';
const isLook = (text: string | null): text is LookName => text === 'paper' || text === 'ink';

/**
 * Look is how the page looks: as the address says (?look=ink, for a projector), else as was
 * chosen on this device, else as its system looks. What the address says is kept too. A
 * change is told as the event "look" of the window.
 */
class Look {
  #now: LookName = 'paper';

  get now(): LookName {
    return this.#now;
  }

  get other(): LookName {
    return this.#now === 'ink' ? 'paper' : 'ink';
  }

  /** begin takes the look up before anything is drawn, and follows the system where nobody chose. */
  begin(address: string | null): void {
    if (isLook(address)) return this.choose(address);
    const system = globalThis.matchMedia?.('(prefers-color-scheme: dark)');
    const follow = () => this.#show(chosen() ?? (system?.matches ? 'ink' : 'paper'));
    system?.addEventListener?.('change', follow);
    follow();
  }

  choose(look: LookName): void {
    keep(place, look);
    this.#show(look);
    const here = new URL(location.href);
    if (!here.searchParams.has('look')) return;
    here.searchParams.set('look', look);
    history.replaceState(history.state, '', here);
  }

  #show(look: LookName): void {
    this.#now = look;
    dispatchEvent(new Event('look'));
    document.documentElement.dataset['look'] = look;
    document.querySelector('meta[name="color-scheme"]')?.setAttribute('content', look === 'ink' ? 'dark' : 'light');
  }
}

function chosen(): LookName | undefined {
  const look = kept(place);
  return isLook(look) ? look : undefined;
}

export const look = new Look();
