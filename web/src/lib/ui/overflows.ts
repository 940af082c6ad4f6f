/**
 * overflows tells whether what stands first in an element is wider than that, now and whenever it changes, until the
 * function that it returns is called. It looks when the page has been laid out: to ask for a width at any other time
 * would have all of it laid out at once, for each element that asks.
 */
export function overflows(room: Element, told: (is: boolean) => void): () => void {
  const look = new ResizeObserver(() => told(room.scrollWidth > room.clientWidth));
  look.observe(room);
  look.observe(room.firstElementChild!);
  return () => look.disconnect();
}
