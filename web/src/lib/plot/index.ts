export { default as Plot } from './Plot.svelte';
export type { Axis, Mark, Series } from './data';
