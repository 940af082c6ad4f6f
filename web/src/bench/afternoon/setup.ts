import type { Schema } from '$lib/api';
import type { Kept } from '../queue';

type Setup = Schema['CarSetup'];

/** Part is what is changed at a car. */
export type Part = Schema['CarPart'];

/** The parts in the order in which children change them. */
export const parts: Part[] = ['gear', 'pack', 'tyres', 'grease', 'wheel', 'motor', 'cells', 'mass'];

/** Numbers of a setup. */
export type NumberField = 'driving_teeth' | 'driven_teeth' | 'wheel_mm' | 'motor' | 'cells' | 'pack' | 'mass_g';

const numbers: Partial<Record<Part, NumberField[]>> = {
  gear: ['driving_teeth', 'driven_teeth'],
  wheel: ['wheel_mm'],
  motor: ['motor'],
  cells: ['cells'],
  pack: ['pack'],
  mass: ['mass_g'],
};

/** fieldsOf are the numbers of a part; none where it is picked by name. */
export const fieldsOf = (part: Part): NumberField[] => numbers[part] ?? [];

/** stepOf is by how much one press changes a number. */
export const stepOf = (field: NumberField): number => (field === 'wheel_mm' ? 0.5 : 1);

/** usual are numbers to begin with, where nothing is noted: common practice for a palm-sized car. */
export function usual(part: Part): Setup {
  const begin: Partial<Record<Part, Setup>> = {
    gear: { driving_teeth: 8, driven_teeth: 32 },
    wheel: { wheel_mm: 26 },
    cells: { cells: 2, chemistry: 'nickel-metal-hydride' },
    mass: { mass_g: 120 },
    pack: { pack: 1 },
    motor: { motor: 1 },
  };
  return begin[part] ?? {};
}

/** partOf are the fields of a setup that belong to a part, as far as they are noted. */
export function partOf(part: Part, setup: Setup): Setup {
  const fields: (keyof Setup)[] =
    part === 'tyres' || part === 'grease'
      ? [part]
      : part === 'cells'
        ? [...fieldsOf(part), 'chemistry']
        : fieldsOf(part);
  return Object.fromEntries(fields.filter((one) => setup[one] !== undefined).map((one) => [one, setup[one]]));
}

/** withPart is a setup with one part of it changed, and all others as they are. */
export const withPart = (part: Part, setup: Setup, to: Setup): Setup => ({ ...setup, ...partOf(part, to) });

/** setupOnceSent is what a car will be once all that waits on this phone is sent; undefined where nothing waits. */
export function setupOnceSent(unsent: readonly Kept[], number: number): Setup | undefined {
  const last = unsent.findLast((one) => one.kind === 'setup' && one.number === number);
  return last && (JSON.parse(last.body) as Schema['ChangeCar']).setup;
}

/** How many packs are offered for one touch. */
const mostPacks = 9;

/** packsToOffer are the packs that a car has had and some numbers after them, by number: nine keys at most. */
export function packsToOffer(states: readonly { setup: Setup }[], now: Setup | undefined): number[] {
  const had = [...states.map((one) => one.setup.pack), now?.pack].filter((n): n is number => n !== undefined && n > 0);
  const known = [...new Set(had)].slice(-mostPacks);
  for (let next = Math.max(0, ...known) + 1; known.length < Math.min(mostPacks, 3 + new Set(had).size); next++)
    known.push(next);
  return known.sort((a, b) => a - b);
}
