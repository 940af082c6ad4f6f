import type { plot as English } from '../en/plot';
import { format as f } from './format';

/** Texts of plots: what is spoken of a picture, and its table. */
export const plot: typeof English = {
  showTable: 'Als Tabelle zeigen',
  hideTable: 'Tabelle ausblenden',
  tableOf: (title) => `${title}, als Tabelle`,
  cursor: (title) => `${title}: mit den Pfeiltasten ablesen`,
  notPointed: 'Drücke zum Anfangen die rechte Pfeiltaste.',
  nothing: 'kein Wert',
  many: (points, low, high) => `${f.number(points)} Punkte zwischen ${low} und ${high}`,
  at: (place, what) => (what.length ? `Bei ${place}: ${what.join('; ')}` : `Bei ${place}`),
  happened: (what, at, more) =>
    `${what}: ${more > 0 ? `${at.join(', ')} und ${f.plural(more, { one: '# weiteres Mal', other: '# weitere Male' })}` : f.list(at)}`,
};
