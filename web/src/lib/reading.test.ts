import { describe, expect, test, vi } from 'vitest';
import { Reading } from './reading.svelte';

const settled = () => new Promise((done) => setTimeout(done));

describe('Reading', () => {
  test('is read when somebody looks, and on a nudge only while somebody looks', async () => {
    let reads = 0;
    const kept = new Reading(() => Promise.resolve(++reads));
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
    const answer: (() => void)[] = [];
    const kept = new Reading(() => new Promise<number>((done) => answer.push(() => done(++reads))));
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
    const kept = new Reading(() => (fail ? Promise.reject(new Error('cut')) : Promise.resolve('here')));
    kept.follow();
    await settled();
    fail = true;
    await kept.refresh();
    expect(kept.value).toBe('here');
    expect(kept.said).toContain('Something went wrong');
  });

  test('forgets at once what it read of something else, also where the answer comes late', async () => {
    const answers: (() => void)[] = [];
    let about = 'one';
    const reading = new Reading(() => {
      const of = about;
      return new Promise<string>((done) => answers.push(() => done(of)));
    });
    reading.anew();
    about = 'two';
    reading.anew();
    answers.shift()!();
    await settled();
    expect(reading.value).toBeUndefined();
    answers.shift()!();
    await settled();
    expect(reading.value).toBe('two');
    about = 'three';
    reading.anew();
    expect(reading.value).toBeUndefined();
  });

  test('is read again until it succeeds where a page insists', async () => {
    vi.useFakeTimers();
    let fail = true;
    const reading = new Reading(() => (fail ? Promise.reject(new Error('cut')) : Promise.resolve('here')));
    const stop = reading.insist();
    await vi.advanceTimersByTimeAsync(2_000);
    expect(reading.value).toBeUndefined();
    fail = false;
    await vi.advanceTimersByTimeAsync(4_000);
    expect([reading.value, reading.said]).toEqual(['here', undefined]);
    stop();
    vi.useRealTimers();
  });
});
