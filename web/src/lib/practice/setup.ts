import type { Schema } from '$lib/api';
import { f } from '$lib/i18n';
import { afternoonTexts } from '$lib/i18n/afternoon';

/** readsSetup is what a car is made of in a line of words; empty where nothing is noted. */
export function readsSetup(setup: Schema['CarSetup']): string {
  const { parts, tyres, grease } = afternoonTexts;
  const number = (name: string, value: number | undefined, unit = '') =>
    value ? [`${name.toLowerCase()} ${f.amount(value)}${unit}`] : [];
  return [
    ...(setup.driving_teeth && setup.driven_teeth
      ? [`${parts.gear.toLowerCase()} ${setup.driving_teeth} : ${setup.driven_teeth}`]
      : []),
    ...number(parts.wheel, setup.wheel_mm, ' mm'),
    ...number(parts.motor, setup.motor),
    ...number(parts.cells, setup.cells),
    ...number(parts.pack, setup.pack),
    ...number(parts.mass, setup.mass_g, ' g'),
    ...(setup.tyres ? [tyres[setup.tyres]] : []),
    ...(setup.grease ? [grease[setup.grease]] : []),
  ].join(', ');
}
