import { f } from '.';
import { section } from './section';
import { told, type Said, type Told } from './told';

let texts: Told = {};

section('flags', (of) => (texts = of.flags));

/** flagsSays is the text for what stands beside a measurement, in the reader's language. */
export const flagsSays = (one: Said): string => told(texts, f, one);
