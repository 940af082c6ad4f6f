import type { offer } from './en/offer';
import { section } from './section';

/** offerTexts are the texts for a link that signs in as somebody else. */
export let offerTexts: typeof offer;

section('offer', (of) => (offerTexts = of.offer));
