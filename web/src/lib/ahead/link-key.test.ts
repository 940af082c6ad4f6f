import { beforeEach, expect, test, vi } from 'vitest';
import { linkKey } from './link-key';

beforeEach(() => {
  sessionStorage.clear();
  history.replaceState(null, '', '/desk');
});

/** A page of the tab that is opened anew. */
const nextPage = async () => {
  vi.resetModules();
  return (await import('./link-key')).linkKey;
};

test('a key is taken out of the address, and the next page of the tab has it until it is answered', async () => {
  history.replaceState(null, '', '/desk/m/spring?lang=en#token=abc');
  expect(linkKey.read()).toBe('abc');
  expect(location.href).toMatch(/\/desk\/m\/spring\?lang=en$/);
  const next = await nextPage();
  expect(next.read()).toBe('abc');
  next.forget('abc');
  expect((await nextPage()).read()).toBeUndefined();
  expect(Object.values({ ...sessionStorage, ...localStorage })).toEqual([]);
});

test('an answer to an older key leaves the newest', () => {
  location.hash = '#token=old';
  linkKey.read();
  location.hash = '#token=new';
  expect(linkKey.read()).toBe('new');
  linkKey.forget('old');
  expect(linkKey.read()).toBe('new');
  linkKey.forget('new');
  expect(linkKey.read()).toBeUndefined();
});

test('a browser that keeps nothing has it until the page goes', () => {
  const none = () => {
    throw new DOMException('denied', 'SecurityError');
  };
  vi.spyOn(Storage.prototype, 'setItem').mockImplementation(none);
  vi.spyOn(Storage.prototype, 'getItem').mockImplementation(none);
  vi.spyOn(Storage.prototype, 'removeItem').mockImplementation(none);
  location.hash = '#token=abc';
  expect([linkKey.read(), linkKey.read()]).toEqual(['abc', 'abc']);
  linkKey.forget('abc');
  expect(linkKey.read()).toBeUndefined();
});
