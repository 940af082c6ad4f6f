import type { phone } from './en/phone';
import { section } from './section';

/** phoneTexts are the texts of what a volunteer's phone itself does. */
export let phoneTexts: typeof phone;

section('phone', (of) => (phoneTexts = of.phone));
