import type { plan } from './en/desk/plan';
import { section } from './desk-section';

/** planTexts are the texts of the desk's page of this name. */
export let planTexts: typeof plan;

section('plan', (of) => (planTexts = of.plan));
