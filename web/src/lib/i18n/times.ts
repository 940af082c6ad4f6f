import type { times } from './en/desk/times';
import { section } from './desk-section';

/** timesTexts are the texts of the desk's page of this name. */
export let timesTexts: typeof times;

section('times', (of) => (timesTexts = of.times));
