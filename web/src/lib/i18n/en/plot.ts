import { format as f } from './format';

/** Texts of plots: what is spoken of a picture, and its table. */
export const plot = {
  showTable: 'Show as a table',
  hideTable: 'Hide the table',
  tableOf: (title: string) => `${title}, as a table`,
  /** Names the cursor, which the arrow keys move. */
  cursor: (title: string) => `${title}: read it off with the arrow keys`,
  notPointed: 'Press the right arrow key to begin.',
  nothing: 'no value',
  /** Points of a cloud at one place, where there are more than can be listened to. */
  many: (points: number, low: string, high: string) => `${f.number(points)} points between ${low} and ${high}`,
  /** A place and what is there. */
  at: (place: string, what: string[]) => (what.length ? `At ${place}: ${what.join('; ')}` : `At ${place}`),
  happened: (what: string, at: string[], more: number) =>
    `${what}: ${more > 0 ? `${at.join(', ')} and ${f.plural(more, { one: '# more time', other: '# more times' })}` : f.list(at)}`,
};
