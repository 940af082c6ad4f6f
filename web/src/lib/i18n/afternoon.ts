import type { afternoon } from './en/afternoon';
import { section } from './section';

/** afternoonTexts are the texts of a practice session at a bench. */
export let afternoonTexts: typeof afternoon;

section('afternoon', (of) => (afternoonTexts = of.afternoon));
