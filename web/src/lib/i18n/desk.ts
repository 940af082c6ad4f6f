import type { desk } from './en/desk';
import { section } from './desk-section';

/** deskTexts are the texts of all pages of the desk. */
export let deskTexts: typeof desk;

section('desk', (of) => (deskTexts = of.desk));
