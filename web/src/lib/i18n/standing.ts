import type { standing } from './en/standing';
import { section } from './section';

/** standingTexts are what stands beside results. */
export let standingTexts: typeof standing;

section('standing', (of) => (standingTexts = of.standing));
