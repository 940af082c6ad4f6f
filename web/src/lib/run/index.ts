export { default as RunView } from './RunView.svelte';
export type { Curve } from './curve';
