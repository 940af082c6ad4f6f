import { beforeEach, expect, test, vi } from 'vitest';
import { Connection, type Listener, type Outside } from './connection';

class FakeSocket {
  onopen: (() => void) | null = null;
  onmessage: ((m: { data: unknown }) => void) | null = null;
  onclose: (() => void) | null = null;
  closed = false;
  close() {
    this.closed = true;
  }
}

let sockets: FakeSocket[];
let heard: string[];
let connection: Connection;

const outside: Outside = {
  open: () => {
    const s = new FakeSocket();
    sockets.push(s);
    return s as unknown as WebSocket;
  },
  now: () => Date.now(),
  random: () => 1,
  after: (ms, then) => setTimeout(then, ms),
  cancel: (timer) => clearTimeout(timer as ReturnType<typeof setTimeout>),
};
const listener: Listener = {
  message: (text) => heard.push(String(text)),
  on: () => heard.push('on'),
  off: () => heard.push('off'),
};

beforeEach(() => {
  vi.useFakeTimers({ now: 1000 });
  sockets = [];
  heard = [];
  connection = new Connection('ws://x', listener, outside);
  return () => {
    connection.close();
    vi.useRealTimers();
  };
});

test('hands messages on, and says when it is off', async () => {
  sockets[0]!.onopen!();
  await vi.advanceTimersByTimeAsync(500);
  sockets[0]!.onmessage!({ data: 'a' });
  await vi.advanceTimersByTimeAsync(500);
  sockets[0]!.onclose!();
  expect(heard).toEqual(['on', 'a', 'off']);
});

test('connects again after a wait, longer each time', async () => {
  sockets[0]!.onclose!();
  await vi.advanceTimersByTimeAsync(499);
  expect(sockets).toHaveLength(1);
  await vi.advanceTimersByTimeAsync(1);
  expect(sockets).toHaveLength(2);
  sockets[1]!.onclose!();
  await vi.advanceTimersByTimeAsync(999);
  expect(sockets).toHaveLength(2);
  await vi.advanceTimersByTimeAsync(1);
  expect(sockets).toHaveLength(3);
  expect(heard).toEqual(['off', 'off']);
});

test('a silent break is noticed by what does not come over the socket', async () => {
  sockets[0]!.onopen!();
  for (let i = 0; i < 12; i++) {
    await vi.advanceTimersByTimeAsync(5_000);
    sockets[0]!.onmessage!({ data: 'still here' });
  }
  expect(sockets).toHaveLength(1);
  await vi.advanceTimersByTimeAsync(15_000);
  expect(heard.at(-1)).toBe('off');
  expect(sockets[0]!.closed).toBe(true);
  expect(sockets).toHaveLength(2); // and it is tried again
});

test('a try that hangs is given up', async () => {
  await vi.advanceTimersByTimeAsync(12_000);
  expect(sockets[0]!.closed).toBe(true);
  await vi.advanceTimersByTimeAsync(500);
  expect(sockets).toHaveLength(2);
});

test('hurry does not wait', () => {
  sockets[0]!.onclose!();
  connection.hurry();
  expect(sockets).toHaveLength(2);
  connection.hurry(); // connecting already
  expect(sockets).toHaveLength(2);
});

test('after close nothing happens any more', async () => {
  sockets[0]!.onopen!();
  connection.close();
  await vi.advanceTimersByTimeAsync(60_000);
  expect(sockets).toHaveLength(1);
  expect(heard).toEqual(['on']);
});
