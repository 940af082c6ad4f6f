import { tick } from 'svelte';

/** toWrong goes to the first field of a form that is said to be wrong; what lies under a thumb does not move. */
export async function toWrong(form: HTMLElement): Promise<void> {
  await tick();
  const first = form.querySelector<HTMLElement>('[aria-invalid]');
  first?.focus({ preventScroll: true });
  first?.scrollIntoView({ block: 'nearest' });
}
