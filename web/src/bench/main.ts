import { start } from '$lib/start';
import App from './App.svelte';
import { first } from './first';

void start(App, undefined, first);
// Over TLS the page opens without the server too; it is kept once it is there.
if (location.protocol === 'https:')
  addEventListener('load', () => void import('./offline').then((it) => it.openOffline()));
