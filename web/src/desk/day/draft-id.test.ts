import { beforeEach, expect, test } from 'vitest';
import { Unreachable } from '$lib/api';
import { asProblem } from '$lib/api/problem';
import { DraftId } from './draft-id.svelte';

beforeEach(() => sessionStorage.clear());
const lost = () => Promise.reject(new Unreachable());

test('follows the name until it is sent, and then belongs to the draft', async () => {
  const id = new DraftId('division spring');
  expect(id.of('Jun', [], 'division')).toBe('jun');
  expect(id.of('Juniors', [], 'division')).toBe('juniors');
  await id.send('Juniors', 'juniors', lost).catch(() => {});
  expect(id.unsettled).toBe(true);
  // The answer was lost, and the live list shows the very thing.
  expect(id.of('Juniors', ['juniors'], 'division')).toBe('juniors');
  expect(id.of('Juniors 6 to 10', ['juniors'], 'division')).toBe('juniors');
  await id.send('Juniors', 'juniors', () => Promise.resolve());
  expect(id.unsettled).toBe(false);
});

test('outlives the page while nobody knows what became of it, for this scope alone', async () => {
  await new DraftId('division spring').send('Juniors', 'juniors', lost).catch(() => {});
  const anew = new DraftId('division spring');
  expect(anew.of('Juniors', ['juniors'], 'division')).toBe('juniors');
  expect(new DraftId('division summer').of('Juniors', ['juniors'], 'division')).toBe('juniors-2');
  await anew.send('Juniors', 'juniors', () => Promise.resolve());
  expect(new DraftId('division spring').of('Juniors', ['juniors'], 'division')).toBe('juniors-2');
});

test('is free again after a refusal, and for a new draft', async () => {
  const id = new DraftId('meet');
  await id
    .send('Spring', 'spring', () => Promise.reject(asProblem({ code: 'planned', detail: 'No.' }, 409)))
    .catch(() => {});
  expect(id.unsettled).toBe(false);
  expect(id.of('Spring', ['spring'], 'meet')).toBe('spring-2');
  await id.send('Spring', 'spring-2', () => Promise.resolve());
  expect(id.of('Other', [], 'meet')).toBe('spring-2'); // the page still leads to it
  id.renew();
  expect(id.of('Other', [], 'meet')).toBe('other');
});
