import { backoff } from '$lib/again';

/** Outside is what a connection needs from the browser; tests give their own. */
export interface Outside {
  open(url: string): WebSocket;
  now(): number;
  random(): number;
  after(ms: number, then: () => void): unknown;
  cancel(timer: unknown): void;
}

/** Listener hears of a connection's life. */
export interface Listener {
  message(text: unknown): void;
  /** Connected; the topics follow whole. */
  on(): void;
  /** Not connected, or not any more. */
  off(): void;
}

/** The server sends a frame every five seconds, be it an empty one: two may be late. */
const quietMs = 12_000;

/**
 * Connection keeps one WebSocket open until close: it connects again whenever it
 * breaks. A break without a word (a phone that left the Wi-Fi, a server that lost its
 * power) is noticed when nothing comes over the socket: that the server answers
 * otherwise says nothing of the socket.
 */
export class Connection {
  #socket: WebSocket | undefined;
  #timer: unknown;
  #tries = 0;
  #closed = false;

  constructor(
    readonly url: string,
    readonly listener: Listener,
    readonly outside: Outside,
  ) {
    this.#connect();
  }

  /** hurry tries at once, for example because the browser says it is online again. */
  hurry(): void {
    if (this.#closed || this.#socket) return;
    this.#tries = 0;
    this.#connect();
  }

  close(): void {
    this.#closed = true;
    this.outside.cancel(this.#timer);
    this.#drop();
  }

  #connect(): void {
    this.outside.cancel(this.#timer);
    const socket = this.outside.open(this.url);
    this.#socket = socket;
    // A try that hangs is given up like one that fails.
    this.#timer = this.outside.after(quietMs, () => this.#broken(socket));
    socket.onopen = () => {
      if (socket !== this.#socket) return;
      this.#tries = 0;
      this.#hear();
      this.listener.on();
    };
    socket.onmessage = (message) => {
      if (socket !== this.#socket) return;
      this.#hear();
      this.listener.message(message.data);
    };
    socket.onclose = () => this.#broken(socket);
  }

  #hear(): void {
    this.outside.cancel(this.#timer);
    this.#timer = this.outside.after(quietMs, () => this.#broken(this.#socket));
  }

  #broken(socket: WebSocket | undefined): void {
    if (this.#closed || socket !== this.#socket) return;
    this.#drop();
    this.outside.cancel(this.#timer);
    this.#timer = this.outside.after(backoff(this.#tries++, this.outside.random()), () => this.#connect());
    this.listener.off();
  }

  #drop(): void {
    const socket = this.#socket;
    this.#socket = undefined;
    if (!socket) return;
    socket.onopen = socket.onmessage = socket.onclose = null;
    socket.close();
  }
}
