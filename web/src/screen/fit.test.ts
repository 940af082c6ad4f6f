import { expect, test, vi } from 'vitest';
import { fit } from './fit';

/** A list of a height whose rows are 10 high; its items hold so many rows each. */
function list(height: number, items: number[]): HTMLElement {
  // As browsers do, it tells the first size once what is observed is laid out.
  vi.stubGlobal(
    'ResizeObserver',
    class {
      constructor(readonly told: () => void) {}
      observe() {
        this.told();
      }
      disconnect() {}
    },
  );
  const ul = document.createElement('ul');
  ul.getBoundingClientRect = () => ({ bottom: height }) as DOMRect;
  let y = 0;
  for (const rows of items) {
    const li = document.createElement('li');
    for (let i = 0; i < rows; i++) {
      const row = document.createElement('p');
      row.dataset['row'] = '';
      const bottom = (y += 10);
      row.getBoundingClientRect = () => ({ bottom }) as DOMRect;
      li.append(row);
    }
    const bottom = y;
    li.getBoundingClientRect = () => ({ bottom }) as DOMRect;
    ul.append(li);
  }
  return ul;
}
const shown = (ul: HTMLElement) =>
  [...ul.querySelectorAll('p')].filter((p) => p.style.display !== 'none' && p.parentElement!.style.display !== 'none')
    .length;

test.each([
  ['all', 60, 6, 0, 0],
  ['whole items only', 55, 4, 1, 0],
  ['only one item', 21, 2, 2, 0],
  ['rows of the first item go where it has no room', 15, 1, 2, 1],
  ['its first row stays', 3, 1, 2, 1],
])('%s', (_, height, rows, hidden, rowsHidden) => {
  const ul = list(height, [2, 2, 2]);
  const told = vi.fn();
  fit(told)(ul);
  expect(shown(ul)).toBe(rows);
  expect(told).toHaveBeenLastCalledWith(hidden, rowsHidden);
});

test('rows that were hidden come back when another item has come before theirs', () => {
  const ul = list(15, [2, 2]);
  fit(() => undefined)(ul);
  expect(shown(ul)).toBe(1);
  ul.append(ul.firstElementChild!); // the other is the first now
  ul.getBoundingClientRect = () => ({ bottom: 60 }) as DOMRect;
  fit(() => undefined)(ul);
  expect(shown(ul)).toBe(4);
});
