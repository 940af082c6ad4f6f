import type { plot } from './en/plot';
import { section } from './section';

/** plotTexts are the texts of plots. */
export let plotTexts: typeof plot;

section('plot', (of) => (plotTexts = of.plot));
