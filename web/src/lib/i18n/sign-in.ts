import type { signIn } from './en/sign-in';
import { section } from './section';

/** signInTexts are the texts of the sign-in on a phone. */
export let signInTexts: typeof signIn;

section('sign-in', (of) => (signInTexts = of.signIn));
