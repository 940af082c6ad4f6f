import { describe, expect, test, vi } from 'vitest';
import { Format, rounded } from './format';

const f = new Format('en-GB');

describe('rounded', () => {
  const cases: [name: string, u: number | undefined, decimals: number, half: number | undefined][] = [
    ['no uncertainty', undefined, 1, undefined],
    ['zero', 0, 1, undefined],
    ['one digit', 0.19, 1, 0.4],
    ['two digits where the first is 1', 0.06, 2, 0.12],
    ['rounded up', 0.105, 1, 0.3],
    ['no finer than a centimetre', 0.0004, 2, 0.01],
    ['metres', 3.1, 0, 7],
    ['ten metres', 31, 0, 62],
  ];
  test.each(cases)('%s', (_, u, decimals, half) => expect(rounded(u)).toEqual({ decimals, half }));
});

test('a value has as many digits as its uncertainty', () => {
  expect(f.measured(312.4371, 0.19)).toEqual({ value: '312.4', plusMinus: '0.4' });
  expect(f.measured(1312.4371)).toEqual({ value: '1,312.4', plusMinus: undefined });
});

test('numbers', () => {
  expect([2, 2.5, 0.125].map((n) => f.amount(n))).toEqual(['2', '2.5', '0.125']);
  expect(f.number(-0.04, 1)).toBe('0.0');
  expect(f.kmh(10)).toBe('36.0');
});

test('small whole numbers are written as the language does', () => {
  const own = new Intl.NumberFormat('en-GB');
  for (let n = 0; n <= 1000; n++) expect(f.number(n)).toBe(own.format(n));
  expect(f.number(-0)).toBe('0');
  expect(new Format('ar-EG', true).number(25)).toBe(new Intl.NumberFormat('ar-EG').format(25));
});

test('no tool of the language is made before it is used', () => {
  const made: string[] = [];
  for (const tool of ['PluralRules', 'NumberFormat', 'DateTimeFormat', 'ListFormat'] as const) {
    const Real = Intl[tool] as new (...args: unknown[]) => object;
    vi.spyOn(Intl, tool as 'NumberFormat').mockImplementation(function (...args: unknown[]) {
      made.push(tool);
      return new Real(...args);
    } as never);
  }
  const lazy = new Format('en-GB');
  expect(lazy.number(7) + lazy.countdown(61)).toBe('71:01');
  expect(made).toEqual([]);
  expect([lazy.time(new Date(2027, 3, 17, 9, 5)), lazy.time(new Date(2027, 3, 17, 9, 6))]).toEqual(['09:05', '09:06']);
  expect(made).toEqual(['DateTimeFormat']);
});

test('plurals and ordinals come from the language', () => {
  expect(f.plural(1, { one: '# lap', other: '# laps' })).toBe('1 lap');
  expect(f.plural(1200, { one: '# lap', other: '# laps' })).toBe('1,200 laps');
  const place = { one: '#st', two: '#nd', few: '#rd', other: '#th' };
  expect([1, 2, 3, 4, 11, 22].map((n) => f.ordinal(n, place))).toEqual(['1st', '2nd', '3rd', '4th', '11th', '22nd']);
});

test('times', () => {
  expect(f.countdown(61.2)).toBe('1:02');
  expect(f.countdown(-3)).toBe('0:00');
  expect(f.date('2027-04-17')).toMatch(/^Saturday,? 17 April 2027$/);
  expect(f.timeToSecond(new Date(2027, 3, 17, 9, 5, 7))).toBe('09:05:07');
});
