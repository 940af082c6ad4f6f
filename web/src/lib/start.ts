import './base.css';
import { mount, type Component } from 'svelte';
import { speak } from './i18n';

/**
 * start draws a face into its page once its language is there. ?look=ink gives
 * the dark look for a projector; paper is the other.
 */
export async function start(face: Component): Promise<void> {
  const query = new URLSearchParams(location.search);
  document.documentElement.dataset['look'] = query.get('look') === 'ink' ? 'ink' : 'paper';
  await speak([query.get('lang') ?? '', ...navigator.languages]);
  mount(face, { target: document.getElementById('app')! });
}
