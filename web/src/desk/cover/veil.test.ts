import { expect, test } from 'vitest';
import { veil } from './veil';

test('names, nicknames, how to say them, birth dates and texts are gone, and numbers stay', () => {
  const racer = { entry: 'e7', start_number: 7, display_name: 'Lantern' };
  expect(veil({ heats: [{ id: 'h', lanes: [{ racer, state: 'done' }] }] })).toEqual({
    heats: [{ id: 'h', lanes: [{ racer: { entry: 'e7', start_number: 7 }, state: 'done' }] }],
  });
  expect(
    veil({ id: 'e7', entrant: 'p1', name: 'Kit Quill', say_as: 'kit', display_name: 'Lantern', start_number: 7 }),
  ).toEqual({ id: 'e7', entrant: 'p1', start_number: 7 });
  expect(veil({ id: 'p1', name: 'Kit Quill', birth_date: '2019-05-02', photo: false })).toEqual({
    id: 'p1',
    photo: false,
  });
  expect(veil({ people: [{ id: 'p1', name: 'Kit Quill', photo: true }] })).toEqual({ people: [] });
});

test('names of things stay', () => {
  const meet = { plan: { name: 'Harbour Hall' }, divisions: [{ id: 'j', name: 'Juniors', class: { name: 'Open' } }] };
  expect(veil(meet)).toEqual(meet);
});

test('told reasons are covered, and what a form would take over is missing, so that no order says "covered"', () => {
  expect(veil({ number: 1, kind: 'withdraw', by: 'a', at: 't', reason: 'family', text: 'ill', text_id: 'x' })).toEqual({
    number: 1,
    kind: 'withdraw',
    by: 'a',
    at: 't',
    reason: 'covered',
  });
  expect(veil({ kind: 'rerun-asked', by: 'b1', reason: 'power' })).toEqual({ kind: 'rerun-asked', by: 'b1' });
  expect(veil({ id: 'b1', number: 1, out_of_service: true, reason: 'bench-fault' }).reason).toBe('covered');
  expect(veil({ paused: true, paused_because: 'alarm', reasons: ['alarm'] })).toEqual({
    paused: true,
    paused_because: 'covered',
    reasons: ['alarm'],
  });
});
