import type { dayCodes as Texts } from './en/day-codes';
import { section } from './section';

/** dayCodes are the words for codes of stages, rounds and standings. */
export let dayCodes: typeof Texts;

section('day-codes', (of) => (dayCodes = of.dayCodes));
