import { beforeEach, describe, expect, test } from 'vitest';
import type { Schema } from '$lib/api';
import { Asks } from './asks.svelte';

const at = { meet: 'spring', heat: 'junior-1.1.1', bench: 'b1', entry: 'e7', number: 7 };
const board = (asked: boolean): Schema['Board'] => ({
  seq: 1,
  paused: false,
  racing: [],
  called: [],
  next: [],
  posted: [
    {
      id: at.heat,
      division: 'junior',
      stage: 1,
      round: 1,
      number: 1,
      phase: 'provisional',
      lanes: [
        {
          racer: { entry: 'e7', start_number: 7 },
          bench: 'b1',
          state: 'done',
          run: 'r1',
          ...(asked ? { rerun_asked: 'power' } : {}),
        },
        { racer: { entry: 'e8', start_number: 8 }, bench: 'b2', state: 'done', run: 'r2', rerun_asked: 'power' },
      ],
    },
  ],
});

describe('Asks', () => {
  beforeEach(() => localStorage.clear());

  test('outlive a reload', () => {
    new Asks().add({ ...at, run: 'r1', seen: false });
    expect(new Asks().list).toEqual([{ ...at, run: 'r1', seen: false }]);
  });

  test('are seen once the board shows them, and not before', () => {
    const asks = new Asks();
    asks.add({ ...at, run: 'r1', seen: false });
    asks.seeBoard('spring', 'b1', board(false));
    expect(asks.list.map((one) => one.seen)).toEqual([false]);
    asks.seeBoard('spring', 'b1', board(true));
    expect(asks.list.map((one) => one.seen)).toEqual([true]);
  });

  test('of another phone at this bench are taken up, those of other benches are not', () => {
    const asks = new Asks();
    asks.seeBoard('spring', 'b1', board(true));
    expect(asks.list).toEqual([{ ...at, run: 'r1', seen: true }]);
  });

  test('asked again, an ask takes the place of the one before; read, it goes', () => {
    const asks = new Asks();
    asks.add({ ...at, run: 'r1', seen: true });
    asks.add({ ...at, run: 'r1-2', seen: false });
    expect(asks.list.map((one) => one.run)).toEqual(['r1-2']);
    asks.forget(at);
    expect(new Asks().list).toEqual([]);
  });

  test('spoilt storage is no asks', () => {
    localStorage.setItem('benchmeet-asks', '{');
    expect(new Asks().list).toEqual([]);
  });
});
