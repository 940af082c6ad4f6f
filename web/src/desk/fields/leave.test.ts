import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { askBeforeLeaving } from './leave';

let unsaved = true;
let end: () => void;
const link = () => document.querySelector('a')!;
const clicked = () => link().dispatchEvent(new MouseEvent('click', { bubbles: true, cancelable: true }));

beforeEach(() => {
  document.body.innerHTML = '<a href="/desk"><b>Meets</b></a>';
  history.replaceState(null, '', '/desk/m/spring/seeds');
  unsaved = true;
  end = askBeforeLeaving(() => unsaved, 'Leave?');
});
afterEach(() => {
  end();
  vi.unstubAllGlobals();
});

test.each([
  ['no', false, false],
  ['yes', true, true],
])('a link is followed only by who says so: %s', (_, says, follows) => {
  const asked = vi.fn(() => says);
  vi.stubGlobal('confirm', asked);
  expect(clicked()).toBe(follows);
  expect(asked).toHaveBeenCalledWith('Leave?');
});

test('a step back is taken back, and nobody else learns of it', () => {
  vi.stubGlobal('confirm', () => false);
  const followed = vi.fn();
  addEventListener('popstate', followed);
  history.replaceState(null, '', '/desk');
  dispatchEvent(new PopStateEvent('popstate'));
  removeEventListener('popstate', followed);
  expect(location.pathname).toBe('/desk/m/spring/seeds');
  expect(followed).not.toHaveBeenCalled();
});

test('shutting the tab is asked about, and nothing is once all is given', () => {
  const asked = vi.fn(() => false);
  vi.stubGlobal('confirm', asked);
  expect(dispatchEvent(new Event('beforeunload', { cancelable: true }))).toBe(false);
  unsaved = false;
  expect(dispatchEvent(new Event('beforeunload', { cancelable: true }))).toBe(true);
  expect(clicked()).toBe(true);
  expect(asked).not.toHaveBeenCalled();
});
