/** CodePoints is a set of characters by their numbers, as CSS writes it in unicode-range. */
export type CodePoints = ReadonlySet<number>;

/** readRange reads a unicode-range: "U+0000-00FF,U+2020". */
export function readRange(range: string): CodePoints {
  const points = new Set<number>();
  for (const part of range.split(',')) {
    const [first, last] = part
      .trim()
      .replace(/^U\+/i, '')
      .split('-')
      .map((hex) => Number.parseInt(hex, 16));
    for (let point = first!; point <= (last ?? first!); point++) points.add(point);
  }
  return points;
}

/** writeRange writes a set as readRange reads it, neighbours together. */
export function writeRange(points: CodePoints): string {
  const hex = (point: number) => point.toString(16).toUpperCase().padStart(4, '0');
  const parts: string[] = [];
  let first: number | undefined;
  for (const point of [...points].sort((a, b) => a - b)) {
    first ??= point;
    if (points.has(point + 1)) continue;
    parts.push(`U+${hex(first)}${first === point ? '' : `-${hex(point)}`}`);
    first = undefined;
  }
  return parts.join(', ');
}

/** textOf writes every character of a set once. */
export const textOf = (points: CodePoints): string => [...points].map((point) => String.fromCodePoint(point)).join('');

/** both are the characters of two sets, without those that only one has. */
export const both = (one: CodePoints, two: CodePoints): CodePoints =>
  new Set([...one].filter((point) => two.has(point)));

/** without are the characters of one set that the other does not have. */
export const without = (one: CodePoints, two: CodePoints): CodePoints =>
  new Set([...one].filter((point) => !two.has(point)));
