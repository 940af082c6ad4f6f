import { f } from '.';
import { section } from './section';
import { told, type Said, type Told } from './told';

let texts: Told = {};

section('refused', (of) => (texts = of.refused));

/** refusedSays is the text for something that the server turns down, in the reader's language. */
export const refusedSays = (one: Said): string => told(texts, f, one);
