import { start } from '$lib/start';
import App from './App.svelte';
import { first } from './first';

void start(App, undefined, first);
