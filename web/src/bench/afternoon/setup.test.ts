import { expect, test } from 'vitest';
import type { Kept } from '../queue';
import { packsToOffer, partOf, setupOnceSent, withPart } from './setup';

test('packs that a car has had are offered, and the numbers after them', () => {
  expect(packsToOffer([], undefined)).toEqual([1, 2, 3]);
  expect(packsToOffer([{ setup: {} }, { setup: { pack: 4 } }, { setup: { pack: 2 } }], { pack: 4 })).toEqual([
    2, 4, 5, 6, 7,
  ]);
  const many = Array.from({ length: 12 }, (_, i) => ({ setup: { pack: i + 1 } }));
  expect(packsToOffer(many, { pack: 3 })).toEqual([4, 5, 6, 7, 8, 9, 10, 11, 12]);
});

test('cells are a number and what they are made of: both go together', () => {
  const before = { cells: 2, chemistry: 'alkaline', pack: 1 } as const;
  expect(partOf('cells', before)).toEqual({ cells: 2, chemistry: 'alkaline' });
  expect(withPart('cells', before, { cells: 3, chemistry: 'nickel-metal-hydride' })).toEqual({
    cells: 3,
    chemistry: 'nickel-metal-hydride',
    pack: 1,
  });
});

test('what waits on the phone is what the car will be', () => {
  const kept = (number: number, pack: number) =>
    ({ kind: 'setup', number, body: JSON.stringify({ setup: { pack } }) }) as Kept;
  expect(setupOnceSent([kept(7, 1), kept(8, 5), kept(7, 2)], 7)).toEqual({ pack: 2 });
  expect(setupOnceSent([kept(8, 5)], 7)).toBeUndefined();
});
