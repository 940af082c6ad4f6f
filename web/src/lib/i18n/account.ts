import type { account } from './en/desk/account';
import { section } from './desk-section';

/** accountTexts are the texts of signing in at the desk, and of names and passwords. */
export let accountTexts: typeof account;

section('account', (of) => (accountTexts = of.account));
