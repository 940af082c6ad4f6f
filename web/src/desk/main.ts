import { start } from '$lib/start';
import { session } from '$lib/session.svelte';
import App from './App.svelte';
import { first } from './pages';

void start(App, first(location.pathname), () => session.open());
