import { f } from '.';
import { section } from './section';
import { told, type Said, type Told } from './told';

let texts: Told = {};

section('notes', (of) => (texts = of.notes));

/** notesSays is the text for a sentence of the comparison of benches or of an advice, in the reader's language. */
export const notesSays = (one: Said): string => told(texts, f, one);
