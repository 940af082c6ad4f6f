import { expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { byVolts, classRows, quantile } from './class';

const run = (entry: string, heat: string, mps: number, more: object = {}) =>
  ({
    id: `${entry}${heat}`,
    source: 'bench',
    counts: true,
    heat,
    at: heat,
    racer: { entry, start_number: 1 },
    figures: { mean_speed_mps: mps },
    ...more,
  }) as unknown as Schema['Run'];
const heats = [
  { id: 'h1', division: 'j' },
  { id: 'h2', division: 'j' },
  { id: 'x1', division: 's' },
] as Schema['Heat'][];

test('classRows: the cars of one division, slowest first, nobody named', () => {
  const runs = [
    run('a', 'h2', 10),
    run('a', 'h1', 9),
    run('b', 'h1', 5),
    run('c', 'x1', 1),
    run('b', 'h2', 99, { counts: false }),
    run('b', 'h2', 99, { source: 'hand' }),
  ];
  const rows = classRows(runs, heats, 'j');
  expect(rows).toEqual([
    { speeds: [18], middle: 18 },
    { speeds: [32.4, 36], middle: 34.2 },
  ]);
  expect(JSON.stringify(rows)).not.toMatch(/entry|start_number|"a"/);
});

test('speeds are corrected where results are', () => {
  const corrected = [
    { id: 'h1', division: 'j', lanes: [{ run: 'ah1', distance_m: 190, as_read_m: 200, factor: 1.25 }] },
  ] as unknown as Schema['Heat'][];
  expect(classRows([run('a', 'h1', 10)], corrected, 'j')).toEqual([{ speeds: [28.8], middle: 28.8 }]); // 10 / 1.25 m/s
});

test('byVolts: runs on a battery that was measured', () => {
  const battery = { pack: 'p', chemistry: 'c', open_v: 2.7 };
  const runs = [
    run('a', 'h1', 10, { battery }),
    run('b', 'h1', 5, { battery: { ...battery, open_v: 2.4 } }),
    run('c', 'h1', 7),
    run('d', 'x1', 9, { battery }),
  ];
  expect(byVolts(runs, heats, 'j')).toEqual([
    { volts: 2.4, speed: 18 },
    { volts: 2.7, speed: 36 },
  ]);
});

test.each([
  [[1, 2, 3], 0.5, 2],
  [[4, 1], 0.5, 2.5],
  [[1, 2, 3, 4, 5], 0.25, 2],
  [[7], 0.75, 7],
])('quantile of %j at %f', (values, q, want) => expect(quantile(values, q)).toBe(want));
