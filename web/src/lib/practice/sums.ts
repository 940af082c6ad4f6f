import type { Schema } from '$lib/api';
import { rowsOf } from './verdict';

/** Mean is the mean of the runs of one build, as it can be worked out from the metres that are written. */
export interface Mean {
  state: number;
  /** To tenths of a metre, as driven. */
  metres: number[];
  sum: number;
  /** To hundredths. */
  mean: number;
  /** The farthest less the least. */
  apart: number;
}

/** Sums are those of a comparison by hand: each follows from figures that are written before it. */
export interface Sums {
  before: Mean;
  after: Mean;
  /** After less before, to hundredths of a metre. */
  more: number;
  /** Of the mean before, in %, to hundredths. */
  percent: number;
}

const round = (value: number, digits: number) => Math.round(value * 10 ** digits) / 10 ** digits;

/** sumsOf works out a comparison from what is written of it; undefined where one of the builds has no run in it. */
export function sumsOf(of: Schema['CarCompared']): Sums | undefined {
  const [before, after] = rowsOf(of).map((row): Mean | undefined => {
    if (row.metres.length === 0) return undefined;
    const metres = row.metres.map((m) => round(m, 1));
    const sum = round(
      metres.reduce((all, m) => all + m, 0),
      1,
    );
    const apart = round(Math.max(...metres) - Math.min(...metres), 1);
    return { state: row.state, metres, sum, mean: round(sum / metres.length, 2), apart };
  });
  if (!before || !after || !(before.mean > 0)) return undefined;
  const more = round(after.mean - before.mean, 2);
  return { before, after, more, percent: round((more / before.mean) * 100, 2) };
}
