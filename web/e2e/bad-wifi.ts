import { createServer, request as ask, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { connect, type AddressInfo, type Socket } from 'node:net';

/** What a bad Wi-Fi does to one request; "comes late" reaches the server after its sender has given it up. */
export const faults = [
  'log-in page',
  'forbidden page',
  'bad gateway',
  'unavailable page',
  'cut before',
  'cut head',
  'cut body',
  'short body',
  'of another',
  'comes late',
] as const;
export type Fault = (typeof faults)[number] | 'silence';

interface Whole {
  status: number;
  headers: IncomingMessage['headers'];
  body: Buffer;
}

/**
 * BadWifi is a proxy between pages and a server. The first request of each order draws a
 * mixture of faults from `mixture`, and each further request with the same key
 * meets the next of them; then the network is well. What is no order, and the live
 * feed, go through.
 */
export class BadWifi {
  /** How often each fault was met. */
  readonly met = new Map<Fault, number>();
  #left = new Map<string, Fault[]>();
  #before: Whole | undefined;
  #onTheirWay: (() => Promise<Whole>)[] = [];
  readonly #sockets = new Set<Socket>();
  readonly #proxy: Server;

  private constructor(
    readonly server: URL,
    readonly mixture: () => Fault[],
  ) {
    this.#proxy = createServer((from, to) => void this.#serve(from, to).catch(() => to.destroy()));
    this.#proxy.on('connection', (socket) => {
      this.#sockets.add(socket);
      socket.on('error', () => {}).on('close', () => this.#sockets.delete(socket));
    });
    this.#proxy.on('upgrade', (from, socket: Socket, head) => {
      const through = connect(Number(server.port), server.hostname, () => {
        const headers = from.rawHeaders.reduce((text, part, i) => text + part + (i % 2 ? '\r\n' : ': '), '');
        through.write(`${from.method} ${from.url} HTTP/1.1\r\n${headers}\r\n`);
        through.write(head);
        socket.pipe(through).pipe(socket);
      });
      through.on('error', () => socket.destroy());
      socket.on('error', () => through.destroy()).on('close', () => through.destroy());
    });
  }

  static async open(server: string, mixture: () => Fault[]): Promise<BadWifi> {
    const wifi = new BadWifi(new URL(server), mixture);
    await new Promise<void>((there) => wifi.#proxy.listen(0, '127.0.0.1', there));
    return wifi;
  }

  get port(): number {
    return (this.#proxy.address() as AddressInfo).port;
  }

  /** deliverAll lets everything arrive that is still on its way. */
  async deliverAll(): Promise<void> {
    for (const send of this.#onTheirWay.splice(0)) await send();
  }

  close(): void {
    this.#proxy.close();
    for (const socket of this.#sockets) socket.destroy();
  }

  async #serve(from: IncomingMessage, to: ServerResponse): Promise<void> {
    const pieces: Buffer[] = [];
    for await (const piece of from) pieces.push(piece as Buffer);
    const pass = () => this.#pass(from, Buffer.concat(pieces));
    const key = from.headers['idempotency-key'];
    if (typeof key !== 'string' || from.method === 'GET' || from.url === '/api/v1/session')
      return give(to, await pass());
    if (!this.#left.has(key)) this.#left.set(key, this.mixture());
    const fault = this.#left.get(key)!.shift();
    if (fault) this.met.set(fault, (this.met.get(fault) ?? 0) + 1);
    else if (this.#onTheirWay.length > 0) await this.#onTheirWay.shift()!();
    const before = this.#before;
    const carry = async () => (this.#before = await pass());
    const page = (status: number) =>
      give(to, {
        status,
        headers: { 'content-type': 'text/html' },
        body: Buffer.from('<!doctype html><title>Welcome</title><h1>Welcome to the Wi-Fi</h1>'),
      });
    switch (fault) {
      case undefined:
        return give(to, await carry());
      case 'log-in page':
        return page(200);
      case 'forbidden page':
        return page(403);
      case 'bad gateway':
        return page(502);
      case 'unavailable page':
        return page(503);
      case 'cut before':
        return void to.destroy();
      case 'cut head':
        await carry();
        return void to.destroy();
      case 'cut body':
        return cut(to, await carry(), true);
      case 'short body':
        return cut(to, await carry(), false);
      case 'of another':
        await carry();
        return before && before.headers['idempotency-key'] !== key ? give(to, before) : page(200);
      case 'comes late':
        this.#onTheirWay.push(pass);
        return void to.destroy();
      case 'silence':
        await carry();
        return; // until the page gives up
    }
  }

  #pass(from: IncomingMessage, body: Buffer): Promise<Whole> {
    return new Promise((done, failed) => {
      const through = ask(
        {
          host: this.server.hostname,
          port: this.server.port,
          method: from.method!,
          path: from.url!,
          headers: { ...from.headers, connection: 'close' },
        },
        (answer) => {
          const pieces: Buffer[] = [];
          answer.on('data', (piece: Buffer) => pieces.push(piece)).on('error', failed);
          answer.on('end', () =>
            done({ status: answer.statusCode!, headers: answer.headers, body: Buffer.concat(pieces) }),
          );
        },
      );
      through.on('error', failed);
      through.end(body);
    });
  }
}

function give(to: ServerResponse, { status, headers, body }: Whole): void {
  const { 'transfer-encoding': _, connection: __, ...rest } = headers;
  to.writeHead(status, { ...rest, 'content-length': body.length });
  to.end(body);
}

/** cut ends an answer in the middle of its body: `told` breaks the connection, otherwise half of it looks like all. */
function cut(to: ServerResponse, { status, headers, body }: Whole, told: boolean): void {
  const half = body.subarray(0, Math.floor(body.length / 2));
  const { 'transfer-encoding': _, connection: __, ...rest } = headers;
  to.writeHead(status, { ...rest, 'content-length': told ? body.length : half.length });
  if (!told) return void to.end(half);
  to.write(half, () => to.destroy());
}

/** Random numbers from a seed (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}
