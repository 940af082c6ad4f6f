/** A place in a list: what stands there, or the empty place of what has left. */
export type Place = string | null;

/**
 * placesOf puts what is in a list now into places. While somebody points at the list (`held`) nothing that is there
 * moves: what leaves leaves its place empty, and what comes takes the first empty place or stands behind. Else the list
 * is as it is.
 */
export function placesOf(before: readonly Place[], now: readonly string[], held: boolean): Place[] {
  if (!held) return [...now];
  const places: Place[] = before.map((id) => (id !== null && now.includes(id) ? id : null));
  for (const id of now) {
    if (places.includes(id)) continue;
    const empty = places.indexOf(null);
    if (empty < 0) places.push(id);
    else places[empty] = id;
  }
  return places;
}
