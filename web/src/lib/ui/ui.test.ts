import { render, screen } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { createRawSnippet } from 'svelte';
import { describe, expect, test, vi } from 'vitest';
import { Button, CutOff, Field, Numeral, patternOf, Plate, Racer } from '.';
import Whole from './Whole.svelte';

const text = (words: string) => createRawSnippet(() => ({ render: () => `<span>${words}</span>` }));

describe('Plate', () => {
  test('is spoken as the bench it stands for', () => {
    render(Plate, { number: 3 });
    expect(screen.getByText('Bench 3')).toBeInTheDocument();
  });

  test('neighbours differ, and the ninth takes the first pattern again', () => {
    expect([1, 2, 8, 9, 16, 999].map(patternOf)).toEqual([1, 2, 8, 1, 8, 7]);
  });
});

describe('Racer', () => {
  test('has its start number and nickname', () => {
    render(Racer, { racer: { start_number: 17, display_name: 'Turbot' } });
    expect(screen.getByText('Start number 17')).toBeInTheDocument();
    expect(screen.getByText('Turbot')).toBeInTheDocument();
  });

  test('without a nickname the start number stands alone', () => {
    const { container } = render(Racer, { racer: { start_number: 17 } });
    expect(container.textContent?.trim()).toBe('Start number 1717');
  });
});

test('Numeral writes value, ± and unit', () => {
  const { container } = render(Numeral, { value: '312.4', plusMinus: '0.4', unit: 'm' });
  expect(container.textContent).toBe('312.4\u00a0± 0.4\u00a0m');
});

describe('Button', () => {
  test('is pressed by keyboard', async () => {
    const pressed = vi.fn();
    render(Button, { onclick: pressed, children: text('Call') });
    await userEvent.tab();
    await userEvent.keyboard('{Enter}');
    expect(pressed).toHaveBeenCalledOnce();
  });

  test('does nothing while it is busy, and keeps the focus', async () => {
    const pressed = vi.fn();
    render(Button, { busy: true, onclick: pressed, children: text('Call') });
    await userEvent.click(screen.getByRole('button', { name: 'Working …' }));
    expect(pressed).not.toHaveBeenCalled();
    expect(screen.getByRole('button')).toHaveFocus();
  });
});

test('Field ties label, help and mistake to its input', () => {
  const input = createRawSnippet((it: () => Record<string, unknown>) => ({
    render: () => `<input id="${it()['id']}" aria-describedby="${it()['aria-describedby']}">`,
  }));
  render(Field, { label: 'Name', help: 'As on the notice', mistake: 'Give it a name', children: input as never });
  expect(screen.getByLabelText('Name')).toHaveAccessibleDescription('As on the notice Give it a name');
});

test('CutOff says since when', () => {
  render(CutOff, { since: new Date(2027, 3, 17, 9, 5, 7) });
  expect(screen.getByRole('status')).toHaveTextContent('Cut off since 09:05:07');
});

test('Whole keeps words with a hyphen together, and leaves the text as it is', () => {
  const words = 'Ask for a re-run of the semi-final at Long-Name-of-a-Hall-by-the-Harbour';
  const { container } = render(Whole, { text: words });
  expect(container.textContent).toBe(words);
  expect([...container.querySelectorAll('.unbroken')].map((one) => one.textContent)).toEqual(['re-run', 'semi-final']);
});
