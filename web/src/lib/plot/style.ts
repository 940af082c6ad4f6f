import type { Series } from './data';

/** How curves differ on paper and for those who see no colours: by their dashes, the colour comes third. */
const dashes: readonly (readonly number[])[] = [[], [9, 5], [2, 4], [12, 4, 2, 4]];

/** dashOf the nth curve, from 0: lengths of stroke and gap in px; none is a full line. */
export const dashOf = (n: number): readonly number[] => dashes[n % dashes.length]!;

/** colourOf the nth curve, from 0, as the name of a token. */
export const colourOf = (n: number): string => `--plot-${(n % dashes.length) + 1}`;

/** Shape is how points of the nth cloud are drawn. */
export type Shape = 'disc' | 'ring' | 'square' | 'cross';
const shapes: readonly Shape[] = ['disc', 'ring', 'square', 'cross'];

/** shapeOf the nth cloud of points, from 0. */
export const shapeOf = (n: number): Shape => shapes[n % shapes.length]!;

/** outline is a shape as an SVG path about a centre; r is half its width in px. A ring and a cross are strokes only. */
export function outline(shape: Shape, x: number, y: number, r: number): string {
  switch (shape) {
    case 'square':
      return `M${x - r},${y - r}h${2 * r}v${2 * r}h${-2 * r}Z`;
    case 'cross':
      return `M${x - r},${y - r}L${x + r},${y + r}M${x - r},${y + r}L${x + r},${y - r}`;
    default:
      return `M${x - r},${y}a${r},${r} 0 1 0 ${2 * r},0a${r},${r} 0 1 0 ${-2 * r},0Z`;
  }
}

/**
 * apart are places of the points of a cloud in px, to a tenth, by where its numbers lie; those that lie on one another
 * to half a px are there once.
 */
export function apart(
  { xs, ys }: Series,
  px: (x: number) => number,
  py: (y: number) => number,
): [x: number, y: number][] {
  const seen = new Set<number>();
  const out: [number, number][] = [];
  for (let i = 0; i < xs.length; i++) {
    const value = ys[i];
    if (value === null || value === undefined) continue;
    const x = px(xs[i]!);
    const y = py(value);
    const place = Math.round(2 * x) * 65_536 + Math.round(2 * y);
    if (seen.has(place)) continue;
    seen.add(place);
    out.push([Math.round(10 * x) / 10, Math.round(10 * y) / 10]);
  }
  return out;
}

/** filled says whether a shape is filled. */
export const filled = (shape: Shape): boolean => shape === 'disc' || shape === 'square';

/** signPath is a mark's sign at the upper edge of a picture, r px wide to either side. */
export function signPath(sign: 'triangle' | 'diamond', x: number, y: number, r: number): string {
  return sign === 'triangle'
    ? `M${x - r},${y}h${2 * r}L${x},${y + 2 * r}Z`
    : `M${x - r},${y + r}L${x},${y}L${x + r},${y + r}L${x},${y + 2 * r}Z`;
}
