import { expect, test, vi } from 'vitest';
import { fit } from './fit';

/** A list of a height whose rows are 10 high; blocks of rows are items. */
function list(height: number, blocks: number[]): HTMLElement {
  vi.stubGlobal('ResizeObserver', class { observe() {} disconnect() {} });
  const ul = document.createElement('ul');
  ul.getBoundingClientRect = () => ({ bottom: height }) as DOMRect;
  let y = 0;
  for (const rows of blocks) {
    const li = document.createElement('li');
    for (let i = 0; i < rows; i++) {
      const row = document.createElement('p');
      row.dataset['row'] = '';
      const bottom = (y += 10);
      row.getBoundingClientRect = () => ({ bottom }) as DOMRect;
      li.append(row);
    }
    ul.append(li);
  }
  return ul;
}
const shown = (ul: HTMLElement) => [...ul.querySelectorAll('p')].filter((p) => p.style.display !== 'none').length;

test.each([
  ['all', 60, 6, 0],
  ['whole rows only', 45, 4, 1],
  ['a block without a row goes too', 21, 2, 2],
  ['the first row stays', 3, 1, 2],
])('%s', (_, height, rows, hidden) => {
  const ul = list(height, [2, 2, 2]);
  const told = vi.fn();
  fit(told)(ul);
  expect(shown(ul)).toBe(rows);
  expect(told).toHaveBeenLastCalledWith(hidden);
});
