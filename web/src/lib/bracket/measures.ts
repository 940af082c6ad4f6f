/** What a tree is drawn with, in px, all from the height of one row. */
export interface Measures {
  row: number;
  font: number;
  /** A heat with the room above it, in which its number stands. */
  unit: number;
  /** The heads of the columns. */
  head: number;
  /** From one column to the next, and the box in it. */
  column: number;
  box: number;
}

/** A heat takes two rows, and this much of a row lies between two heats. */
const between = 0.7;
const heads = 1.3;

/** A box narrower than so many rows has no room for a name. */
const leastBox = 5.9;
const leads = 0.9; // of a row, for the lines between two columns

/** measures for columns that share a width; where they cannot, the boxes keep room for a name. */
export function measures(row: number, columns: number, width: number): Measures {
  const lines = row * leads;
  const box = Math.min(
    row * 16,
    Math.max(row * leastBox, (width - lines * Math.max(0, columns - 1)) / Math.max(1, columns)),
  );
  return { row, font: row * 0.62, unit: row * (2 + between), head: row * heads, column: box + lines, box };
}

/** unitsIn a height with rows of a height. */
export const unitsIn = (height: number, row: number): number =>
  Math.max(1, Math.floor((height - heads * row) / ((2 + between) * row)));

/** rowFor so many units in a height. */
export const rowFor = (height: number, units: number): number => height / (heads + (2 + between) * Math.max(1, units));

/** rowAcross is the greatest row with which so many columns fit into a width. */
export const rowAcross = (width: number, columns: number): number => width / (columns * (leastBox + leads) - leads);

/** A letter of the condensed font is about so wide, in parts of its size. */
const letter = 0.44;

/** fitted is a text cut to a width, with an ellipsis where something is missing. */
export function fitted(text: string, width: number, font: number): string {
  const letters = Math.floor(width / (font * letter));
  if (text.length <= letters) return text;
  return letters < 2 ? '' : `${text.slice(0, letters - 1).trimEnd()}…`;
}
