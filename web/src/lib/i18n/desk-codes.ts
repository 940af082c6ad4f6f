import type { deskCodes as Texts } from './en/desk-codes';
import { section } from './desk-section';

/** deskCodes are the words for codes that only the desk shows. */
export let deskCodes: typeof Texts;

section('desk-codes', (of) => (deskCodes = of.deskCodes));
