import { api, ask } from '$lib/api';

/**
 * The server's clock as this page knows it. Deadlines are by the server's clock,
 * a phone's may be minutes off, and in a rehearsal the server's runs faster.
 */
class ServerClock {
  #offsetMs = 0;
  #scale = 1;
  #at = 0;
  /** Now by the server's clock, in ms, renewed four times a second while somebody looks. */
  now = $state(Date.now());
  #lookers = 0;
  #timer: ReturnType<typeof setInterval> | undefined;

  /** meetServer asks the server for its time; it rejects if it cannot be reached. */
  async meetServer(): Promise<void> {
    const sent = Date.now();
    const about = await ask(api.GET('/api/v1/about'));
    this.#at = (sent + Date.now()) / 2;
    this.#offsetMs = Date.parse(about.now) - this.#at;
    this.#scale = about.clock_scale;
    this.now = this.read();
  }

  read(): number {
    const local = Date.now();
    return local + this.#offsetMs + (local - this.#at) * (this.#scale - 1) * (this.#at > 0 ? 1 : 0);
  }

  /**
   * instant is now by the server's clock, as the contract writes it; undefined before the server was asked: a phone's
   * own clock may be anywhere.
   */
  instant(): string | undefined {
    return this.#at > 0 ? new Date(this.read()).toISOString() : undefined;
  }

  /** tick keeps `now` moving until the function it returns is called: give it to $effect. */
  tick = (): (() => void) => {
    if (this.#lookers++ === 0) this.#timer = setInterval(() => (this.now = this.read()), 250);
    return () => {
      if (--this.#lookers === 0) clearInterval(this.#timer);
    };
  };
}

export const serverClock = new ServerClock();
