import type { formats } from './en/desk/formats';
import { section } from './desk-section';

/** formatTexts are the texts of the comparison of programmes. */
export let formatTexts: typeof formats;

section('formats', (of) => (formatTexts = of.formats));
