import type { Schema } from '$lib/api';
import { comparedTexts } from '$lib/i18n/compared';
import type { Line, Row } from './rows';

type Comparison = Schema['BenchComparison'];

const off = (factor: number | undefined) => (factor === undefined ? undefined : 100 * (factor - 1));

/** factorRows are the benches with a factor, as how many per cent they are off. */
export const factorRows = (c: Comparison): Row[] =>
  c.benches
    .filter((b) => b.factor !== undefined)
    .map((b) => ({ bench: b.number, value: off(b.factor), low: off(b.low), high: off(b.high) }));

/** criticalLines are the 5 % and 1 % lines, on both sides of zero where the statistic has two. */
export function criticalLines(five: number | undefined, one: number | undefined, twoSided: boolean): Line[] {
  const c = comparedTexts;
  const lines: Line[] = twoSided ? [{ at: 0, name: c.mean, kind: 'zero' }] : [];
  for (const sign of twoSided ? [1, -1] : [1]) {
    if (five !== undefined) lines.push({ at: sign * five, name: c.five, kind: 'inner' });
    if (one !== undefined) lines.push({ at: sign * one, name: c.one, kind: 'outer' });
  }
  return lines;
}

/** disagreeing are the benches in service that the comparison blames. */
export const disagreeing = (c: Comparison): Schema['ComparedBench'][] =>
  c.benches.filter((b) => !b.out_of_service && b.verdict !== undefined && b.verdict !== 'agrees');
