import type { codes as Texts } from './en/codes';
import { section } from './section';

/** codes are the words for codes of the API that every face says. */
export let codes: typeof Texts;

section('codes', (of) => (codes = of.codes));
