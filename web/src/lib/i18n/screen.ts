import type { screen } from './en/screen';
import { section } from './section';

/** screenTexts are the texts of the public screen. */
export let screenTexts: typeof screen;

section('screen', (of) => (screenTexts = of.screen));
