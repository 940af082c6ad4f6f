import { boxSources } from './box-sources';
import type { box } from './en/screen/box';
import { add, section } from './section';

/** boxTexts are the texts of the page for who builds a counter box. */
export let boxTexts: typeof box;

// They come with their page: their name is no part of the first load elsewhere.
add(boxSources);
section('box', (of) => (boxTexts = of.box));
