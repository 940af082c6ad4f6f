import type { seeds } from './en/desk/seeds';
import { section } from './desk-section';

/** seedsTexts are the texts of the desk's page of this name. */
export let seedsTexts: typeof seeds;

section('seeds', (of) => (seedsTexts = of.seeds));
