import { connect, createServer, type AddressInfo, type Server, type Socket } from 'node:net';

/** Cable is what lies between a browser and a server: it can be pulled out and put back, whichever browser it is. */
export class Cable {
  readonly #sockets = new Set<Socket>();
  #out = false;

  private constructor(
    private readonly server: URL,
    private readonly plug: Server,
  ) {}

  static async to(address: string): Promise<Cable> {
    const plug = createServer();
    const cable = new Cable(new URL(address), plug);
    plug.on('connection', (socket) => cable.#carry(socket));
    await new Promise<void>((ready) => plug.listen(0, '127.0.0.1', ready));
    return cable;
  }

  get address(): string {
    return `http://127.0.0.1:${(this.plug.address() as AddressInfo).port}`;
  }

  /** pull cuts all that is open; what is tried from now on fails. */
  pull(): void {
    this.#out = true;
    for (const socket of this.#sockets) socket.destroy();
  }

  putBack(): void {
    this.#out = false;
  }

  async close(): Promise<void> {
    this.pull();
    await new Promise((done) => this.plug.close(done));
  }

  #carry(near: Socket): void {
    if (this.#out) {
      near.destroy();
      return;
    }
    const far = connect(Number(this.server.port), this.server.hostname);
    for (const [socket, other] of [
      [near, far],
      [far, near],
    ] as const) {
      this.#sockets.add(socket);
      socket.pipe(other);
      socket
        .on('error', () => {})
        .on('close', () => {
          this.#sockets.delete(socket);
          other.destroy();
        });
    }
  }
}
