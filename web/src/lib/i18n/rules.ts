import type { rules } from './en/screen/rules';
import { section } from './section';

/** rulesTexts are the texts of the rules as families read them. */
export let rulesTexts: typeof rules;

section('rules', (of) => (rulesTexts = of.rules));
