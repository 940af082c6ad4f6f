import type { now } from './en/desk/now';
import { section } from './desk-section';

/** nowTexts are the texts of the desk's page of this name. */
export let nowTexts: typeof now;

section('now', (of) => (nowTexts = of.now));
