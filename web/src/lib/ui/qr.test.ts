import { expect, test } from 'vitest';
import { drawing } from './qr';

test('a QR code has the three finders inside a quiet border', () => {
  const { side, path } = drawing('http://192.168.1.10:8080/bench/b1#token=VeAdywv8iIYhncznf1BfxhNnLQfUCv97');
  const dark = (x: number, y: number) => path.includes(`M${x} ${y}h1`);
  // A symbol of version v has 17 + 4v modules (ISO/IEC 18004).
  expect((side - 8 - 17) % 4).toBe(0);
  for (const [x, y] of [
    [4, 4],
    [side - 5, 4],
    [4, side - 5],
  ] as const)
    expect(dark(x, y)).toBe(true);
  expect(dark(side - 5, side - 5) && dark(side - 11, side - 5) && dark(side - 5, side - 11)).toBe(false);
  expect(path).not.toMatch(/M[0-3] /);
});
