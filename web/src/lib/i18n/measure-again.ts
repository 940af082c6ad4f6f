import type { measureAgain } from './en/desk/measure-again';
import { section } from './desk-section';

/** measureAgainTexts are the texts of the desk's page of this name. */
export let measureAgainTexts: typeof measureAgain;

section('measure-again', (of) => (measureAgainTexts = of.measureAgain));
