import type { entries } from './en/desk/entries';
import { section } from './desk-section';

/** entriesTexts are the texts of the desk's page of this name. */
export let entriesTexts: typeof entries;

section('entries', (of) => (entriesTexts = of.entries));
