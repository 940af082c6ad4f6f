import type { life } from './en/life';
import { section } from './section';

/** lifeTexts are the texts of a car's practice, of the wall and of the leader's page. */
export let lifeTexts: typeof life;

section('life', (of) => (lifeTexts = of.life));
