import type { ruleCodes as Texts } from './en/rule-codes';
import { section } from './section';

/** ruleCodes are the words for codes of the rules of a meet. */
export let ruleCodes: typeof Texts;

section('rule-codes', (of) => (ruleCodes = of.ruleCodes));
