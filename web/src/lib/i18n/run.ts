import type { run } from './en/run';
import { section } from './section';

/** runTexts are the texts of a run's page. */
export let runTexts: typeof run;

section('run', (of) => (runTexts = of.run));
