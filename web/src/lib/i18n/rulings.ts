import type { rulings } from './en/desk/rulings';
import { section } from './desk-section';

/** rulingsTexts are the texts of the desk's page of this name. */
export let rulingsTexts: typeof rulings;

section('rulings', (of) => (rulingsTexts = of.rulings));
