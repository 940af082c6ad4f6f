export { api, ask, onSignedOut, once, type Schema } from './client';
export { exchange } from './exchange';
export { uuidv7 } from './ids';
export { Order } from './order.svelte';
export { AlreadyDone, outcomeKnown, Problem, sentence, Unreachable } from './problem';
export { settles } from './receipt';
export { fingerprint } from './unsettled';
