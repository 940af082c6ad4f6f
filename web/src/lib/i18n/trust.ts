import type { trust } from './en/screen/trust';
import { section } from './section';

/** trustTexts are the texts about https: why a phone trusts this server, how, and how to take that back. */
export let trustTexts: typeof trust;

// With the rules of the day, off the first load of every page: both are read once.
section('rules', (of) => (trustTexts = of.trust));
