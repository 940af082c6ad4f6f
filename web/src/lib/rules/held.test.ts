import { expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { held } from './held';

const meet = (promised: number, ...sure: (number | undefined)[]) =>
  ({
    rules: { runs_at_least: promised },
    divisions: sure.map((runs, i) => ({ id: `d${i}`, ...(runs !== undefined && { sure_runs: { entries: 6, runs } }) })),
  }) as unknown as Schema['Meet'];

test.each([
  ['what every programme makes sure of', meet(3, 3, 4), true],
  ['one division falls short', meet(4, 4, 2), false],
  ['nobody has entered one', meet(2, 2, undefined), false],
  ['nothing is promised', meet(0, 2), false],
])('%s', (_, of, want) => expect(held(of)).toBe(want));
