import type { drill, practice } from './en/practice';
import { section } from './section';

/** practiceTexts are the texts of practice and of reference runs at a bench. */
export let practiceTexts: typeof practice;

/** drillTexts are those of the drill with a pretend car. */
export let drillTexts: typeof drill;

section('practice', (of) => ({ practice: practiceTexts, drill: drillTexts } = of));
