import type { practice } from './en/practice';
import { section } from './section';

/** practiceTexts are the texts of practice and of reference runs at a bench. */
export let practiceTexts: typeof practice;

section('practice', (of) => (practiceTexts = of.practice));
