import { expect, test } from 'vitest';
import { split, type Block, type Lines } from './split';

const block = (head: number, rows: number): Block => ({ head, rows: Array<number>(rows).fill(10) });
const sizes = (pages: Lines[]) => pages.map((p) => p.to - p.from);

test.each([
  ['all on one page', [block(10, 4)], 50, [4]],
  ['forty of a table, evenly', [block(0, 40)], 65, [6, 6, 6, 6, 6, 6, 4]],
  ['no page with a single row beside a full one', [block(0, 7)], 60, [4, 3]],
  ['a heat that has room on a page stays whole', [block(10, 3), block(10, 3)], 70, [3, 3]],
  ['heats share a page', [block(10, 2), block(10, 2), block(10, 2)], 60, [4, 2]],
  ['where there is no room at all, a row a page', [block(10, 3)], 5, [1, 1, 1]],
  ['nothing', [], 50, [0]],
])('%s', (_, blocks, room, want) => {
  expect(sizes(split(blocks, room))).toEqual(want);
});

test('every row is on one page, in order, and no page is fuller than the room', () => {
  for (let seed = 1; seed <= 500; seed++) {
    let state = seed;
    const dice = (n: number) => (state = (state * 48271) % 2147483647) % n;
    const blocks = Array.from({ length: 1 + dice(6) }, () => ({
      head: dice(20),
      rows: Array.from({ length: 1 + dice(30) }, () => 10 + dice(10)),
    }));
    const room = 40 + dice(300);
    const pages = split(blocks, room);
    const heights = blocks.flatMap((b) => b.rows);
    expect(pages.flatMap((p) => Array.from({ length: p.to - p.from }, (_, i) => p.from + i))).toEqual(
      heights.map((_, i) => i),
    );
    for (const page of pages) {
      let first = 0;
      let used = 0;
      for (const each of blocks) {
        const rows = each.rows.filter((_, i) => first + i >= page.from && first + i < page.to);
        if (rows.length > 0) used += rows.reduce((sum, h) => sum + h, each.head);
        first += each.rows.length;
      }
      expect(used).toBeLessThanOrEqual(room);
    }
  }
});
