/**
 * Pointing says whether somebody points at a part of a page with the mouse: from the first movement over it until the
 * mouse has left it, or has rested for so long that nobody is about to press.
 */
export class Pointing {
  now = $state(false);
  #timer: ReturnType<typeof setTimeout> | undefined;

  readonly #restMS: number;
  constructor(restMS = 8000) {
    this.#restMS = restMS;
  }

  /** An attachment for the part. */
  over = (part: HTMLElement) => {
    const moved = (event: PointerEvent) => {
      if (event.pointerType !== 'mouse') return;
      this.now = true;
      clearTimeout(this.#timer);
      this.#timer = setTimeout(left, this.#restMS);
    };
    const left = () => {
      clearTimeout(this.#timer);
      this.now = false;
    };
    part.addEventListener('pointermove', moved);
    part.addEventListener('pointerdown', moved);
    part.addEventListener('pointerleave', left);
    return () => {
      left();
      part.removeEventListener('pointermove', moved);
      part.removeEventListener('pointerdown', moved);
      part.removeEventListener('pointerleave', left);
    };
  };
}
