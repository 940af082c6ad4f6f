import { expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { changesOf } from './follow';

const lane = (entry: string, more: object = {}) => ({ racer: { entry }, state: 'racing', ...more });
const board = (racing: object[], posted: object[] = []) =>
  ({
    racing: racing.length > 0 ? [{ id: 'h2', division: 'j', lanes: racing }] : [],
    posted: posted.length > 0 ? [{ id: 'h1', division: 'j', lanes: posted }] : [],
    called: [],
    next: [],
  }) as unknown as Schema['Board'];
const mine = (_: unknown, one: Schema['Lane']) => one.racer.entry === 'e1';

test('a sheet changes when a run of its car comes, or counts otherwise, and with nothing else', () => {
  const before = changesOf(board([lane('e1'), lane('e2')]), mine);
  expect(changesOf(board([lane('e1', { armed: 'r1' }), lane('e2', { run: 'r2' })]), mine)).toBe(before);
  const came = changesOf(board([lane('e1', { run: 'r1', distance_m: 100 }), lane('e2')]), mine);
  expect(came).not.toBe(before);
  const posted = changesOf(board([], [lane('e1', { run: 'r1', distance_m: 100 })]), mine);
  expect(posted).not.toBe(before);
  expect(changesOf(board([], [lane('e1', { run: 'r1b', distance_m: 90 })]), mine)).not.toBe(posted);
  expect(changesOf(board([], [lane('e1', { run: 'r1', distance_m: 95, penalty_m: 5 })]), mine)).not.toBe(posted);
});
