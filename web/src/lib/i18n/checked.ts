import { f } from '.';
import { section } from './section';
import { told, type Said, type Told } from './told';

let texts: Told = {};

section('checked', (of) => (texts = of.checked));

/** checkedSays is the text for what the inspector's table still wants of a car or a pack, in the reader's language. */
export const checkedSays = (one: Said): string => told(texts, f, one);
