import type { printFoot } from './en/print-foot';
import { section } from './section';

/** printFootTexts are the texts at the foot of every page of a print. */
export let printFootTexts: typeof printFoot;

section('print-foot', (of) => (printFootTexts = of.printFoot));
