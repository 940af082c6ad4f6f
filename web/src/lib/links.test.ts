import { afterEach, beforeEach, describe, expect, test } from 'vitest';

afterEach(() => history.replaceState(null, '', '/'));

describe('links', () => {
  beforeEach(() => {
    document.body.innerHTML =
      '<a id="in" href="/desk?a=1"><b>x</b></a><a id="there" href="/c/harbour/desk">x</a><a id="far" href="https://far.example/">x</a><a id="part" href="#part">x</a>';
  });
  const href = (id: string) => document.getElementById(id)!.getAttribute('href');

  test.each(['pointerdown', 'focusin', 'click'])('lead to the club once there is %s', async (kind) => {
    history.replaceState(null, '', '/c/harbour/m/spring');
    const { leadLinks } = await import('./links');
    leadLinks();
    document.body.addEventListener('click', (event) => event.preventDefault(), { once: true });
    for (const each of document.querySelectorAll('b, a'))
      each.dispatchEvent(new Event(kind, { bubbles: true, cancelable: true }));
    expect(['in', 'there', 'far', 'part'].map(href)).toEqual([
      '/c/harbour/desk?a=1',
      '/c/harbour/desk',
      'https://far.example/',
      '#part',
    ]);
  });
});
