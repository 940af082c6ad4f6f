import type { practiceDesk } from './en/desk/practice';
import { section } from './section';

/** practiceDeskTexts are the texts of practice at the desk. */
export let practiceDeskTexts: typeof practiceDesk;

section('practice-desk', (of) => (practiceDeskTexts = of.practiceDesk));
