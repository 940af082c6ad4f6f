import { afterEach, expect, test, vi } from 'vitest';

const opened = async (path: string) => {
  history.replaceState(null, '', path);
  vi.resetModules();
  return import('./root');
};
afterEach(() => history.replaceState(null, '', '/'));

test.each([
  ['/', '', '/', '/', 'x'],
  ['/m/spring', '', '/m/spring', '/m/spring', 'x'],
  ['/c/harbour/', '/c/harbour', '/', '/c/harbour/', 'x/c/harbour'],
  ['/c/harbour', '/c/harbour', '/', '/c/harbour/', 'x/c/harbour'],
  ['/c/harbour/m/spring', '/c/harbour', '/m/spring', '/c/harbour/m/spring', 'x/c/harbour'],
  ['/c/', '', '/c/', '/c/', 'x'],
  ['/cars', '', '/cars', '/cars', 'x'],
])('%s', async (at, root, inside, outside, ours) => {
  const found = await opened(at);
  expect(found.root).toBe(root);
  expect(found.inside(at)).toBe(inside);
  expect(found.outside(inside)).toBe(outside);
  expect(found.outside(outside)).toBe(outside);
  expect(found.ours('x')).toBe(ours);
});

test('another club that begins alike is not within', async () => {
  const { inside, outside } = await opened('/c/pier/');
  expect(inside('/c/pier-2/desk')).toBe('/c/pier-2/desk');
  expect(outside('/c/pier-2/desk')).toBe('/c/pier/c/pier-2/desk');
});
