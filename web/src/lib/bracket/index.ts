export { crossesOf, hasCross } from './cross';
export { hasTree, partsOf, type TreePart } from './model';
export { default as CrossTable } from './CrossTable.svelte';
export { default as Trees } from './Trees.svelte';
export { default as TreeTurn } from './TreeTurn.svelte';
