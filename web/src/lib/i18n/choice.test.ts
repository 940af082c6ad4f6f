import { beforeEach, expect, test, vi } from 'vitest';
import { wanted } from './choice';

beforeEach(() => localStorage.clear());

test.each<[what: string, address: string | null, kept: string | null, browser: string[], language: string]>([
  ['nothing said', null, null, [], 'en'],
  ['the browser', null, null, ['fr-FR', 'de-AT', 'en'], 'de'],
  ['the browser in no language that is there', null, null, ['fr-FR', 'x'], 'en'],
  ['what was chosen', null, 'en', ['de'], 'en'],
  ['the address', 'de', 'en', ['en'], 'de'],
  ['an address of no language', 'xx', 'de', ['en'], 'de'],
  ['a name that every object has', 'constructor', 'toString', ['__proto__', 'de'], 'de'],
])('%s', (_, address, kept, browser, language) => {
  if (kept) localStorage.setItem('benchmeet-language', kept);
  expect(wanted(address, browser)).toBe(language);
});

test('what the address says is kept', () => {
  expect(wanted('de', ['en'])).toBe('de');
  expect(wanted(null, ['en'])).toBe('de');
  expect(document.cookie).toContain('benchmeet-language=de');
});

test('a browser that keeps nothing', () => {
  const none = () => {
    throw new DOMException('denied', 'SecurityError');
  };
  vi.spyOn(Storage.prototype, 'setItem').mockImplementation(none);
  vi.spyOn(Storage.prototype, 'getItem').mockImplementation(none);
  expect(wanted('de', ['en'])).toBe('de');
  expect(wanted(null, ['en'])).toBe('en');
});
