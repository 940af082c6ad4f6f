import { inside } from '$lib/ahead/root';
import { start } from '$lib/start';
import { session } from '$lib/session.svelte';
import App from './App.svelte';
import { cover } from './cover/cover.svelte';
import { first } from './pages';

cover.stand();
void start(App, first(inside(location.pathname)), () => session.open());
