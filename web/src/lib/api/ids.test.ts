import { expect, test } from 'vitest';
import { uuidv7 } from './ids';

test('carries the time of the example in RFC 9562, appendix A.6', () => {
  // unix_ts_ms 0x017F22E279B0
  expect(uuidv7(0x017f22e279b0)).toMatch(/^017f22e2-79b0-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
});

test('no two are the same', () => {
  const made = new Set(Array.from({ length: 1000 }, () => uuidv7(1)));
  expect(made.size).toBe(1000);
});
