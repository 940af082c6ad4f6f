/** differences lists where two bodies of the contract say something else: [in words where, mine, theirs]. */
export function differences(mine: object, theirs: object): [string, unknown, unknown][] {
  const [a, b] = [flat(mine), flat(theirs)];
  return [...new Set([...a.keys(), ...b.keys()])]
    .filter((path) => a.get(path) !== b.get(path))
    .map((path) => [path, a.get(path), b.get(path)]);
}

/** only is what of a body another one speaks of: a reading says more than a save. */
export const only = <T extends object>(of: T, like: readonly string[]): Partial<T> =>
  Object.fromEntries(Object.entries(of).filter(([name]) => like.includes(name))) as Partial<T>;

/** flat gives each plain value its path in words: `stages 1, race s`. */
function flat(value: unknown, path: string[] = [], into = new Map<string, unknown>()): Map<string, unknown> {
  if (typeof value === 'object' && value !== null) {
    for (const [name, part] of Object.entries(value)) {
      const word = Array.isArray(value) ? String(Number(name) + 1) : name.replaceAll('_', ' ');
      flat(part, [...path, word], into);
    }
  } else if (value !== undefined && value !== null && value !== false && value !== 0 && value !== '') {
    into.set(path.join(', '), value);
  }
  return into;
}
