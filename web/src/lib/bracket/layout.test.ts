import { describe, expect, test } from 'vitest';
import { layout, pages, twoSided, type Node } from './layout';

/** tree is a whole knockout of 2^rounds, with a race for third place on request. */
function tree(rounds: number, third = false): Node[][] {
  const columns: Node[][] = [];
  for (let c = 0; c < rounds; c++) {
    const heats = 2 ** (rounds - 1 - c);
    columns.push(
      Array.from({ length: heats }, (_, i) => ({
        id: `${c + 1}.${i + 1}`,
        sources: c === 0 ? [undefined, undefined] : [`${c}.${2 * i + 1}`, `${c}.${2 * i + 2}`],
      })),
    );
  }
  if (third) columns.at(-1)!.push({ id: 'third', sources: [undefined, undefined] });
  return columns;
}

const middles = (columns: Node[][]) => Object.fromEntries([...layout(columns).places].map(([id, p]) => [id, p.middle]));

describe('layout', () => {
  test('a heat stands between those that lead to it', () =>
    expect(middles(tree(3))).toEqual({ '1.1': 0.5, '1.2': 1.5, '1.3': 2.5, '1.4': 3.5, '2.1': 1, '2.2': 3, '3.1': 2 }));

  test('the race for third place stands below the final', () => {
    const got = layout(tree(2, true));
    expect(got.places.get('third')!.middle).toBe(got.places.get('2.1')!.middle + 1);
    expect(got.places.get('third')!.column).toBe(1);
  });

  test('a bye leaves its heat beside the one that leads to it', () => {
    const columns = [
      [{ id: 'a', sources: [] }],
      [
        { id: 'b', sources: [undefined, 'a'] },
        { id: 'c', sources: [] },
      ],
    ];
    const { places, edges, units } = layout(columns);
    expect(places.get('b')!.middle).toBe(places.get('a')!.middle);
    expect(places.get('c')!.middle).toBeGreaterThanOrEqual(places.get('b')!.middle + 1);
    expect(edges).toEqual([{ from: 'a', to: 'b', slot: 1 }]);
    expect(units).toBe(2);
  });

  test.each([1, 2, 3, 4, 5, 6])('no two heats of a round overlap: %i rounds', (rounds) => {
    const { places, units, edges } = layout(tree(rounds, true));
    for (let c = 0; c < rounds; c++) {
      const at = [...places.values()]
        .filter((p) => p.column === c)
        .map((p) => p.middle)
        .sort((a, b) => a - b);
      at.forEach((m, i) => i > 0 && expect(m - at[i - 1]!).toBeGreaterThanOrEqual(1));
    }
    expect(Math.max(...[...places.values()].map((p) => p.middle + 0.5))).toBe(units);
    expect(edges).toHaveLength(2 ** rounds - 2); // every heat but the last and the race for third leads on
  });

  test('a source that is not there, or not earlier, is no line', () =>
    expect(layout([[{ id: 'a', sources: ['x', 'a'] }]]).edges).toEqual([]));

  test('of nothing is nothing', () =>
    expect(layout([])).toEqual({ places: new Map(), edges: [], units: 0, columns: 0 }));
});

describe('twoSided', () => {
  test('both halves meet in the middle, the race for third place below', () => {
    const got = twoSided(tree(3, true))!;
    expect(
      Object.fromEntries([...got.places].map(([id, p]) => [id, [p.column, p.middle, p.mirrored ?? false]])),
    ).toEqual({
      '1.1': [0, 0.5, false],
      '1.2': [0, 1.5, false],
      '2.1': [1, 1, false],
      '3.1': [2, 1, false],
      third: [2, 2, false],
      '2.2': [3, 1, true],
      '1.3': [4, 0.5, true],
      '1.4': [4, 1.5, true],
    });
    expect([got.columns, got.units]).toEqual([5, 2.5]);
    expect(got.edges).toHaveLength(6);
  });
  test('two trees have no middle, and one heat has no halves', () => {
    expect(twoSided([...tree(2), [{ id: 'x', sources: ['2.1', undefined] }]])).toBeUndefined();
    expect(twoSided(tree(1))).toBeUndefined();
    expect(twoSided([])).toBeUndefined();
  });
});

describe('pages', () => {
  const within = (most: number) => (columns: readonly (readonly Node[])[]) => layout(columns).units <= most;
  const shape = (of: Node[][][]) => of.map((page) => page.map((c) => c.length));

  test('what fits is one page', () => expect(shape(pages(tree(3), within(4)))).toEqual([[4, 2, 1]]));

  test('64 entries on a hall screen: four quarters, then what follows from them', () =>
    expect(shape(pages(tree(6, true), within(8)))).toEqual([
      [8, 4, 2, 1],
      [8, 4, 2, 1],
      [8, 4, 2, 1],
      [8, 4, 2, 1],
      [4, 2, 2],
    ]));

  test('small parts share a page', () =>
    expect(shape(pages(tree(4), within(5)))).toEqual([
      [4, 2, 1],
      [4, 2, 1],
      [2, 1],
    ]));

  test.each([2, 3, 5, 8, 13])('every heat is shown, and no page is larger than %i', (most) => {
    const all = tree(6, true);
    const made = pages(all, within(most));
    expect(new Set(made.flat(2).map((h) => h.id)).size).toBe(all.flat().length);
    for (const page of made) expect(layout(page).units).toBeLessThanOrEqual(Math.max(most, 3));
  });
});
