import type { programme } from './en/desk/programme';
import { section } from './desk-section';

/** programmeTexts are the texts of the desk's page of this name. */
export let programmeTexts: typeof programme;

section('programme', (of) => (programmeTexts = of.programme));
