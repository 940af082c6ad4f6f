import { inside } from '$lib/ahead/root';
import { start } from '$lib/start';
import App from './App.svelte';
import { first as facts } from './hall';
import { first } from './pages';

void start(App, first(inside(location.pathname)), facts);
