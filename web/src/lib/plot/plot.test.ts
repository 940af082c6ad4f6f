import { render, screen, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { tick } from 'svelte';
import { beforeEach, expect, test, vi } from 'vitest';
import { Plot, type Mark, type Series } from '.';

const point = vi.hoisted(() => vi.fn());
/** Every picture that was drawn, by the names of its series. */
const drawn = vi.hoisted((): string[][] => []);
vi.mock('./chart', () => {
  const draw = (of: { series: readonly Series[] }) => void drawn.push(of.series.map((each) => each.name));
  return {
    chart: (_: unknown, first: Parameters<typeof draw>[0]) => (draw(first), { draw, point, close: () => undefined }),
  };
});
/** Says whether the plot is in sight. */
let look: (isIntersecting: boolean) => void;
beforeEach(() => {
  point.mockReset();
  drawn.length = 0;
  vi.stubGlobal(
    'IntersectionObserver',
    class {
      constructor(seen: (entries: { isIntersecting: boolean }[]) => void) {
        look = (isIntersecting) => seen([{ isIntersecting }]);
      }
      observe() {
        look(true);
      }
      disconnect() {}
    },
  );
  vi.stubGlobal(
    'ResizeObserver',
    class {
      observe() {}
      unobserve() {}
      disconnect() {}
    },
  ); // which jsdom has not
});

const series: Series[] = [
  { name: 'Puffin', xs: [0, 1, 2], ys: [0, 10, 12] },
  { name: 'Turbot', xs: [0, 2], ys: [0, 8] },
];
const marks: Mark[] = [{ at: 1, text: 'a pass filled in', sign: 'diamond' }];
const plot = () =>
  render(Plot, {
    title: 'Speed over time',
    x: { name: 'Time', unit: 's', decimals: 1 },
    y: { name: 'Speed', unit: 'km/h', decimals: 1, fromZero: true },
    series,
    marks,
  });

test('the table behind it is there for screen readers before anybody opens it', async () => {
  plot();
  const table = screen.getByRole('table', { name: 'Speed over time, as a table' });
  expect(
    within(table)
      .getAllByRole('columnheader')
      .map((h) => h.textContent),
  ).toEqual(['Time, s', 'Puffin', 'Turbot']);
  expect(within(table).getByRole('row', { name: '1.0 10.0 4.0' })).toBeInTheDocument();
  expect(screen.getByText('a pass filled in: 1.0 s')).toBeInTheDocument();
  const button = screen.getByRole('button', { name: /^Show as a table/ });
  await userEvent.click(button);
  expect(screen.getByRole('button', { name: /^Hide the table/ })).toHaveAttribute('aria-expanded', 'true');
});

test('the arrow keys read it off, and what they find is spoken', async () => {
  plot();
  const cursor = screen.getByRole('slider', { name: 'Speed over time: read it off with the arrow keys' });
  expect(cursor).toHaveAttribute('aria-valuetext', 'Press the right arrow key to begin.');
  await vi.waitFor(() => expect(cursor.querySelector('svg')).toBeNull()); // the chart has come
  cursor.focus();
  await userEvent.keyboard('{ArrowRight}{ArrowRight}');
  expect(cursor).toHaveAttribute('aria-valuetext', 'At 1.0 s: Puffin 10.0 km/h; Turbot 4.0 km/h; a pass filled in');
  expect(point).toHaveBeenLastCalledWith(1);
  await userEvent.keyboard('{End}{ArrowRight}');
  expect(cursor).toHaveAttribute('aria-valuetext', 'At 2.0 s: Puffin 12.0 km/h; Turbot 8.0 km/h');
  await userEvent.keyboard('{Home}');
  expect(cursor).toHaveAttribute('aria-valuenow', '0');
});

test('of many points at one place it is said how many, and between what', async () => {
  const xs = [...Array<number>(40).fill(3.5), 4];
  const series = [{ name: 'All cars', xs, ys: xs.map((_, i) => 10 + i / 10), points: true }];
  const y = { name: 'Speed', unit: 'km/h', decimals: 1 };
  render(Plot, { title: 'Cars', x: { name: 'Gear', decimals: 2 }, y, series, tabled: true });
  const cursor = screen.getByRole('slider');
  cursor.focus();
  await userEvent.keyboard('{Home}');
  expect(cursor).toHaveAttribute('aria-valuetext', 'At 3.50: 40 points between 10.0 and 13.9 km/h');
  await userEvent.keyboard('{End}');
  expect(cursor).toHaveAttribute('aria-valuetext', 'At 4.00: 14.0 km/h');
});

test('points keep their names in the table', () => {
  render(Plot, {
    title: 'Cars',
    x: { name: 'Gear ratio', decimals: 2 },
    y: { name: 'Speed', unit: 'km/h', decimals: 1 },
    series: [{ name: 'All cars', xs: [3.5, 4.2], ys: [11, 12], points: true, labels: ['first', 'second'] }],
    label: 'Car',
  });
  expect(screen.getByRole('row', { name: 'second 4.20 12.0' })).toBeInTheDocument();
});

test('a picture is drawn when it comes in sight, and anew for other numbers, not for being scrolled past', async () => {
  const { rerender } = plot();
  await vi.waitFor(() => expect(drawn).toEqual([['Puffin', 'Turbot']]));
  look(false);
  await rerender({ series: [{ name: 'Skua', xs: [0, 1], ys: [3, 4] }] });
  expect(drawn).toHaveLength(1);
  look(true);
  await tick();
  expect(drawn[1]).toEqual(['Skua']);
  look(false);
  await tick();
  look(true);
  await tick();
  expect(drawn).toHaveLength(2);
});
