import { expect, test } from 'vitest';
import { Feed } from './feed.svelte';
import type { Outside } from './connection';

interface Fake {
  url: string;
  onopen?: () => void;
  onmessage?: (m: { data: string }) => void;
  onclose?: () => void;
  close(): void;
}

function hall(now = new Date(2027, 3, 17, 10, 0, 0).getTime()) {
  const sockets: Fake[] = [];
  const clock = { now };
  const outside: Outside = {
    open: (url) => {
      const s: Fake = { url, close: () => undefined };
      sockets.push(s);
      return s as unknown as WebSocket;
    },
    now: () => clock.now,
    random: () => 0,
    after: () => undefined,
    cancel: () => undefined,
  };
  return { sockets, clock, outside };
}

test('asks for its topics and keeps the newest frame of each', () => {
  const { sockets, outside } = hall();
  const feed = new Feed('/api/v1/meets/spring/live', ['board', 'speed'], outside);
  expect(sockets[0]!.url).toBe('ws://localhost:3000/api/v1/meets/spring/live?topics=board%2Cspeed');
  sockets[0]!.onopen!();
  sockets[0]!.onmessage!({ data: '{"topic":"board","seq":3,"data":{"seq":3}}' });
  sockets[0]!.onmessage!({ data: '{"topic":"board","seq":4,"data":{"seq":4}}' });
  sockets[0]!.onmessage!({ data: 'what?' });
  expect(feed.latest('board')).toEqual({ seq: 4 });
  expect(feed.latest('speed/b1')).toBeUndefined();
  feed.close();
});

test('says since when it is cut off, and keeps what it had', () => {
  const { sockets, clock, outside } = hall();
  const feed = new Feed('/x', ['board'], outside);
  expect(feed.state).toBe('connecting');
  sockets[0]!.onopen!();
  sockets[0]!.onmessage!({ data: '{"topic":"board","data":{"seq":3}}' });
  const heard = clock.now;
  clock.now += 60_000;
  sockets[0]!.onclose!();
  expect(feed.state).toBe('off');
  expect(feed.cutOffSince?.getTime()).toBe(heard);
  expect(feed.latest('board')).toEqual({ seq: 3 });
  feed.close();
});

test('listens to other topics over a new connection', () => {
  const { sockets, outside } = hall();
  const feed = new Feed('/x', ['board', 'meet'], outside);
  feed.listen(['meet', 'board']); // the same
  expect(sockets).toHaveLength(1);
  feed.listen(['board', 'meet', 'standings/j']);
  expect(sockets[1]!.url).toContain('standings%2Fj');
  feed.close();
});

test('an older frame never replaces a newer one, whichever connection brings it', () => {
  const { sockets, outside } = hall();
  const feed = new Feed('/x', ['board', 'speed'], outside);
  sockets[0]!.onopen!();
  sockets[0]!.onmessage!({ data: '{"topic":"board","seq":9,"data":{"seq":9}}' });
  sockets[0]!.onmessage!({ data: '{"topic":"board","seq":7,"data":{"seq":7}}' });
  expect(feed.latest('board')).toEqual({ seq: 9 });
  feed.listen(['board', 'speed', 'meet']);
  sockets[1]!.onopen!();
  sockets[1]!.onmessage!({ data: '{"topic":"board","seq":8,"data":{"seq":8}}' });
  expect(feed.latest('board')).toEqual({ seq: 9 });
  // The same position again is as new: names are not in the log. Live speed has none.
  sockets[1]!.onmessage!({ data: '{"topic":"board","seq":9,"data":{"seq":9,"erased":true}}' });
  expect(feed.latest('board')).toEqual({ seq: 9, erased: true });
  for (const speed of [4, 5])
    sockets[1]!.onmessage!({ data: `{"topic":"speed/b1","data":{"bench":"b1","speed":${speed}}}` });
  expect(feed.latest('speed/b1')).toEqual({ bench: 'b1', speed: 5 });
  feed.close();
});

test('cut off since is the last thing heard, over an earlier connection too', () => {
  const { sockets, clock, outside } = hall();
  const feed = new Feed('/x', ['board'], outside);
  sockets[0]!.onopen!();
  clock.now += 5 * 3600_000;
  sockets[0]!.onmessage!({ data: '{"topic":"board","seq":3,"data":{"seq":3}}' });
  const heard = clock.now;
  clock.now += 1_000;
  feed.listen(['board', 'meet']);
  clock.now += 60_000;
  sockets[1]!.onclose!();
  expect(feed.cutOffSince?.getTime()).toBe(heard);
  feed.close();
});
