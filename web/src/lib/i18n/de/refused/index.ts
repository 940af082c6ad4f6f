import type { Told } from '../../told';
import { called } from './called';
import { checked } from './checked';
import { kept } from './kept';
import { planned } from './planned';
import { raced } from './raced';

/** The sentences for all that the server turns down; each says what is wrong and what to do. */
export const refused: Told = { ...called, ...checked, ...planned, ...raced, ...kept };
