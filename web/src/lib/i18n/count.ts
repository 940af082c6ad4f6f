import type { count } from './en/count';
import { section } from './section';

/** countTexts are the texts of the dialog that takes a count by hand. */
export let countTexts: typeof count;

section('count', (of) => (countTexts = of.count));
