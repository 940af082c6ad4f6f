import type { club } from './en/desk/club';
import { section } from './desk-section';

/** clubTexts are the texts of the desk's page of this name. */
export let clubTexts: typeof club;

section('club', (of) => (clubTexts = of.club));
