import type { compared } from './en/desk/compared';
import { section } from './desk-section';

/** comparedTexts are the texts of the desk's page of this name. */
export let comparedTexts: typeof compared;

section('compared', (of) => (comparedTexts = of.compared));
