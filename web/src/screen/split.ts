/** Block is a part of a list with a heading of its own, or none: heights in px. */
export interface Block {
  head: number;
  rows: number[];
}

/** Lines is what a page shows: rows counted over all blocks, from the first to before the last. */
export interface Lines {
  from: number;
  to: number;
}

/**
 * split deals blocks to pages of a height: every row is on one page. A block that has
 * room on a page stays whole; one that is larger than a page is parted evenly, so that
 * no page has a single row while another is full, and its heading is repeated. There
 * is one page at least, and a row on each even where it has no room.
 */
export function split(blocks: readonly Block[], room: number): Lines[] {
  const pages: Lines[] = [{ from: 0, to: 0 }];
  let used = 0;
  const turn = (from: number) => {
    if (pages.at(-1)!.to > pages.at(-1)!.from) pages.push({ from, to: from });
    used = 0;
  };
  let row = 0;
  for (const { head, rows } of blocks) {
    const all = rows.reduce((sum, height) => sum + height, head);
    if (used + all > room) turn(row);
    const most = all > room ? Math.ceil(rows.length / parts(head, rows, room)) : rows.length;
    used += head;
    let here = 0;
    for (const height of rows) {
      if (here > 0 && (here === most || used + height > room)) {
        turn(row);
        used = head;
        here = 0;
      }
      used += height;
      here++;
      pages.at(-1)!.to = ++row;
    }
  }
  return pages;
}

/** parts is how few pages hold the rows of a block. */
function parts(head: number, rows: readonly number[], room: number): number {
  let pages = 1;
  let used = head;
  for (const [i, height] of rows.entries()) {
    if (i > 0 && used > head && used + height > room) {
      pages++;
      used = head;
    }
    used += height;
  }
  return pages;
}
