const place = 'benchmeet-children';

/** Childrens is whether this phone shows the page for children: what may be pressed there harms nothing. */
class Childrens {
  #on = $state(kept());

  get on(): boolean {
    return this.#on;
  }

  set on(to: boolean) {
    this.#on = to;
    try {
      localStorage.setItem(place, to ? 'on' : 'off');
    } catch {
      // A browser that keeps nothing: it is so until the page goes.
    }
  }
}

function kept(): boolean {
  try {
    return localStorage.getItem(place) === 'on';
  } catch {
    return false;
  }
}

export const childrens = new Childrens();
