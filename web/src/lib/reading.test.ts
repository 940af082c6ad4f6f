import { describe, expect, test } from 'vitest';
import { Kept } from './kept.svelte';

const settled = () => new Promise((done) => setTimeout(done));

describe('Kept', () => {
  test('is read when somebody looks, and on a nudge only while somebody looks', async () => {
    let reads = 0;
    const kept = new Kept(() => Promise.resolve(++reads));
    kept.nudge();
    expect(kept.value).toBeUndefined();
    const stop = kept.follow();
    await settled();
    expect(kept.value).toBe(1);
    kept.nudge();
    await settled();
    expect(kept.value).toBe(2);
    stop();
    kept.nudge();
    await settled();
    expect(kept.value).toBe(2);
  });

  test('nudges during a reading are one more reading', async () => {
    let reads = 0;
    let answer: (() => void)[] = [];
    const kept = new Kept(() => new Promise<number>((done) => answer.push(() => done(++reads))));
    kept.follow();
    kept.nudge();
    kept.nudge();
    answer.shift()!();
    await settled();
    answer.shift()!();
    await settled();
    expect(reads).toBe(2);
    expect(answer).toEqual([]);
  });

  test('keeps the old value and says why when a reading fails', async () => {
    let fail = false;
    const kept = new Kept(() => (fail ? Promise.reject(new Error('cut')) : Promise.resolve('here')));
    kept.follow();
    await settled();
    fail = true;
    await kept.refresh();
    expect(kept.value).toBe('here');
    expect(kept.said).toContain('Something went wrong');
  });
});
