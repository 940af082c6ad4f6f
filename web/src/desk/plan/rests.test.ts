import { expect, test } from 'vitest';
import { restsLonger } from './rests';

type Division = Parameters<typeof restsLonger>[0];
const division = (rest_s: number, legs?: number) =>
  ({
    stages: [{ kind: 'knockout', race_s: 60, ...(legs && { legs }) }],
    class: { name: 'Box stock', lap_m: 20, battery: { windows: [{ rest_s }, { rest_s: 60 }] } },
  }) as Division;
const rules = { call_s: 180, battery_gate: 'hold', tie: 'shared' } as const;

test('legs and deciders ask for a car before its battery has rested, where that is longer than a call', () => {
  expect(restsLonger(division(300, 2), rules)).toEqual({ why: 'legs', rest_s: 300 });
  expect(restsLonger(division(300), { ...rules, close: 'decider' })).toEqual({ why: 'deciders', rest_s: 300 });
  expect(restsLonger(division(300), { ...rules, tie: 'decider' })).toEqual({ why: 'deciders', rest_s: 300 });
});

test('a short rest, one that nobody is held for, and a form without second races say nothing', () => {
  expect(restsLonger(division(180, 2), rules)).toBeUndefined();
  expect(restsLonger(division(300, 2), { ...rules, battery_gate: 'warn' })).toBeUndefined();
  expect(restsLonger(division(300), rules)).toBeUndefined();
});
