import type { bench } from './en/bench';
import { section } from './section';

/** benchTexts are the texts of the bench page. */
export let benchTexts: typeof bench;

section('bench', (of) => (benchTexts = of.bench));
