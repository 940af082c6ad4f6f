import { afterEach, expect, test } from 'vitest';
import { keepFocus } from './focus';

afterEach(() => document.body.replaceChildren());
const settled = () => new Promise((done) => setTimeout(done));

test('when the focused button goes, its section takes the focus', async () => {
  document.body.innerHTML =
    '<main tabindex="-1"><section tabindex="-1"><ul><li><button>Call</button></li></ul></section></main>';
  const stop = keepFocus(document.querySelector('main')!);
  document.querySelector('button')!.focus();
  document.querySelector('li')!.remove();
  await settled();
  expect(document.activeElement).toBe(document.querySelector('section'));
  stop();
});

test('a focus that was left on purpose stays where it went', async () => {
  document.body.innerHTML = '<main tabindex="-1"><ul><li><button>Call</button></li></ul></main><input>';
  const stop = keepFocus(document.querySelector('main')!);
  document.querySelector('button')!.focus();
  document.querySelector('input')!.focus();
  document.querySelector('li')!.remove();
  await settled();
  expect(document.activeElement).toBe(document.querySelector('input'));
  stop();
});
