import type { trust } from './en/screen/trust';
import { section } from './section';

/** trustTexts are the texts about https: why a phone trusts this server, how, and how to take that back. */
export let trustTexts: typeof trust;

section('trust', (of) => (trustTexts = of.trust));
