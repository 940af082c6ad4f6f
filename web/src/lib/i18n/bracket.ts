import type { bracket } from './en/bracket';
import { section } from './section';

/** bracketTexts are the texts of draws and cross tables. */
export let bracketTexts: typeof bracket;

section('bracket', (of) => (bracketTexts = of.bracket));
