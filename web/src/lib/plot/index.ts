export { default as Plot } from './Plot.svelte';
export { valueAt, type Axis, type Mark, type Series } from './data';
