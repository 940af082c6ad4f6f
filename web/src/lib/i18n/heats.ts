import type { heats } from './en/heats';
import { section } from './section';

/** heatTexts are what rounds and heats are called. */
export let heatTexts: typeof heats;

section('heats', (of) => (heatTexts = of.heats));
