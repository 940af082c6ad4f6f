import type { inspection } from './en/desk/inspection';
import { section } from './desk-section';

/** inspectionTexts are the texts of the desk's page of this name. */
export let inspectionTexts: typeof inspection;

section('inspection', (of) => (inspectionTexts = of.inspection));
