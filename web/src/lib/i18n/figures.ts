import type { figures } from './en/figures';
import { section } from './section';

/** figuresTexts are the texts that explain figures of results. */
export let figuresTexts: typeof figures;

section('figures', (of) => (figuresTexts = of.figures));
