import type { drill, practice, signal } from './en/practice';
import { section } from './section';

/** practiceTexts are the texts of practice and of reference runs at a bench. */
export let practiceTexts: typeof practice;

/** drillTexts are those of the drill with a pretend car. */
export let drillTexts: typeof drill;

/** signalTexts are those of the check of a bench's signal. */
export let signalTexts: typeof signal;

section('practice', (of) => ({ practice: practiceTexts, drill: drillTexts, signal: signalTexts } = of));
