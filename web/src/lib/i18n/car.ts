import type { car } from './en/screen/car';
import { section } from './section';

/** carTexts are the texts of the sheets of a car and a class. */
export let carTexts: typeof car;

section('car', (of) => (carTexts = of.car));
