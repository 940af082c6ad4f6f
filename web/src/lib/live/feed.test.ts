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
    probe: () => Promise.resolve(),
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
