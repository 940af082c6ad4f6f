/** Sizes are what a browser tells of an element when it has laid out the page; undefined before. */
type Sizes = readonly ResizeObserverSize[] | undefined;

/**
 * overflows says whether something is wider than the room that it stands in, by sizes that the browser told: to ask it
 * for a width would have it lay out the whole page at once, for each that is asked.
 */
export const overflows = (inner: Sizes, room: Sizes): boolean =>
  (inner?.[0]?.inlineSize ?? 0) > (room?.[0]?.inlineSize ?? 0) + 0.5;
