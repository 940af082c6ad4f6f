export { api, ask, type Schema } from './client';
export { uuidv7 } from './ids';
export { Order } from './order.svelte';
export { Problem, sentence, Unreachable } from './problem';
