import { ours } from '$lib/ahead/root';
import { keep, kept } from '$lib/device';

const place = ours('benchmeet-children');

/** Childrens is whether this phone shows the page for children: what may be pressed there harms nothing. */
class Childrens {
  #on = $state(kept(place) === 'on');

  get on(): boolean {
    return this.#on;
  }

  set on(to: boolean) {
    this.#on = to;
    keep(place, to ? 'on' : 'off');
  }
}

export const childrens = new Childrens();
