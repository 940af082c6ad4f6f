import type { evening, paper } from './en/desk/paper';
import { section } from './desk-section';

/** paperTexts are the texts of the prints. */
export let paperTexts: typeof paper;

/** eveningTexts are those of the evening before a race day. */
export let eveningTexts: typeof evening;

section('paper', (of) => ({ paper: paperTexts, evening: eveningTexts } = of));
