/** Node is a heat as far as its place in the picture goes: where each of its racers comes from. */
export interface Node {
  id: string;
  /** For each place the heat of the same tree that leads to it; undefined where none does. */
  sources: readonly (string | undefined)[];
}

/** Placed is where a heat stands: its column, and its middle in units of one heat from above. */
export interface Placed {
  column: number;
  middle: number;
  /** It stands in the right half, from which lines go to the left. */
  mirrored?: boolean;
}

/** Edge is a line from a heat to a place of a later one. */
export interface Edge {
  from: string;
  to: string;
  slot: number;
}

/** Layout is a tree with a place for every heat. */
export interface Layout {
  places: Map<string, Placed>;
  edges: Edge[];
  /** Its height in units of one heat, and how many columns it has. */
  units: number;
  columns: number;
}

/**
 * layout places heats, a column a round: one that others lead to stands between
 * these, and no two of a column meet. What leads nowhere, such as a race for
 * third place, stands below in its order. It costs the number of heats.
 */
export function layout<N extends Node>(columns: readonly (readonly N[])[]): Layout {
  const at = new Map(columns.flatMap((heats, column) => heats.map((heat) => [heat.id, { heat, column }] as const)));
  const places = new Map<string, Placed>();
  const edges: Edge[] = [];
  // Heats of one column must not overlap, whatever leads to them.
  const free = columns.map(() => 0);
  let leaf = 0;

  function place(id: string): number {
    const { heat, column } = at.get(id)!;
    const from: number[] = [];
    heat.sources.forEach((source, slot) => {
      const before = source === undefined ? undefined : at.get(source);
      if (!before || before.column >= column || (places.has(source!) && edges.some((e) => e.from === source))) return;
      edges.push({ from: source!, to: id, slot });
      from.push(places.get(source!)?.middle ?? place(source!));
    });
    // A race for third place has no lines: it stands right below the final.
    const beside = column === columns.length - 1 && column > 0 && free[column]! > 0;
    let middle =
      from.length > 0 ? from.reduce((sum, m) => sum + m, 0) / from.length : beside ? free[column]! + 0.5 : leaf + 0.5;
    middle = Math.max(middle, free[column]! + 0.5);
    leaf = Math.max(leaf, middle + 0.5);
    free[column] = middle + 0.5;
    places.set(id, { column, middle });
    return middle;
  }

  for (let column = columns.length - 1; column >= 0; column--)
    for (const heat of columns[column]!) if (!places.has(heat.id)) place(heat.id);
  return { places, edges, units: Math.max(0, ...free), columns: columns.length };
}

/**
 * twoSided places a tree so that both halves meet in the middle: half as high and
 * nearly twice as wide. Undefined where the last round has no heat that two others
 * of the tree lead to, or where something does not lead to it.
 */
export function twoSided<N extends Node>(columns: readonly (readonly N[])[]): Layout | undefined {
  const [root, ...below] = columns.at(-1) ?? [];
  const before = columns.slice(0, -1).map((c) => [...c]);
  if (!root || root.sources.length !== 2) return undefined;
  const halves = root.sources.map((source) =>
    source !== undefined && before.at(-1)?.some((h) => h.id === source)
      ? layout(under(before, source, before.length - 1))
      : undefined,
  );
  const [left, right] = halves;
  if (!left || !right || left.places.size + right.places.size !== before.flat().length) return undefined;
  const middle = before.length;
  const places = new Map(left.places);
  for (const [id, p] of right.places)
    places.set(id, { column: 2 * middle - p.column, middle: p.middle, mirrored: true });
  const ends = root.sources.map((source) => places.get(source!)!.middle);
  const at = (ends[0]! + ends[1]!) / 2;
  [root, ...below].forEach((heat, i) => places.set(heat.id, { column: middle, middle: at + i }));
  const edges = [
    ...left.edges,
    ...right.edges,
    ...root.sources.map((from, slot) => ({ from: from!, to: root.id, slot })),
  ];
  return { places, edges, units: Math.max(left.units, right.units, at + 0.5 + below.length), columns: 2 * middle + 1 };
}

/**
 * pages cuts a tree into parts that fit, which together show all of it: first what
 * leads to the heats of one round, then the tree from that round on. A tree that
 * fits is one page. What cannot be cut smaller stays as it is.
 */
export function pages<N extends Node>(
  columns: readonly (readonly N[])[],
  fits: (columns: readonly (readonly N[])[]) => boolean,
): N[][][] {
  const whole = columns.map((c) => [...c]);
  if (fits(whole) || whole.length < 3) return [whole];
  const trees = (column: number) =>
    whole[column]!.map((root) => under(whole, root.id, column)).filter((tree) => tree.length > 0);
  let cut = 0;
  for (let column = 1; column < whole.length - 1; column++) if (trees(column).every(fits)) cut = column;
  if (cut === 0) return [whole];
  const out: N[][][] = [];
  let page: N[][] = [];
  for (const tree of trees(cut)) {
    const both = join(page, tree);
    if (page.length > 0 && !fits(both)) {
      out.push(page);
      page = tree;
    } else page = both;
  }
  if (page.length > 0) out.push(page);
  return [...out, ...pages(whole.slice(cut), fits)];
}

/** under is the part of a tree that leads to a heat of a column, itself in it, a column a round as before. */
function under<N extends Node>(columns: N[][], root: string, column: number): N[][] {
  const wanted = new Set([root]);
  for (let c = column; c >= 0; c--)
    for (const heat of columns[c]!)
      if (wanted.has(heat.id)) for (const s of heat.sources) if (s !== undefined) wanted.add(s);
  return columns.slice(0, column + 1).map((heats) => heats.filter((h) => wanted.has(h.id)));
}

const join = <N>(a: N[][], b: N[][]): N[][] => b.map((heats, c) => [...(a[c] ?? []), ...heats]);
