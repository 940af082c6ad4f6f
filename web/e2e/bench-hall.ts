import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { randomBytes, randomUUID } from 'node:crypto';
import { mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { usualRules } from './usual-rules';

const root = fileURLToPath(new URL('../..', import.meta.url));

/**
 * Hall is a real server with an organiser at it, for tests of the bench page:
 * everything that is not the page goes through the API. Set BENCHMEET_BINARY to
 * take a built binary; without it one is built with the pages of dist/.
 */
export class Hall {
  private constructor(
    readonly address: string,
    private readonly token: string,
    private readonly server: ChildProcess,
    private readonly folder: string,
    readonly binary: string,
  ) {}

  static async open(...more: string[]): Promise<Hall> {
    const folder = mkdtempSync(join(tmpdir(), 'benchmeet-e2e-'));
    let binary = process.env['BENCHMEET_BINARY'];
    if (!binary) {
      binary = join(folder, 'benchmeet');
      execFileSync('go', ['build', '-o', binary, './cmd/benchmeet'], { cwd: root, stdio: 'inherit' });
    }
    return Hall.start(binary, folder, more);
  }

  /**
   * openAt opens a hall whose clock is stepped, and stands at an instant for now. The server is the program as the Go
   * tests run it, which reads from a file by how much its clock is stepped.
   */
  static async openAt(at: string): Promise<[Hall, SteppedClock]> {
    const folder = mkdtempSync(join(tmpdir(), 'benchmeet-e2e-'));
    const binary = join(folder, 'benchmeet.test');
    execFileSync('go', ['test', '-c', '-o', binary, './cmd/benchmeet'], { cwd: root, stdio: 'inherit' });
    const clock = new SteppedClock(join(folder, 'clock'), Date.parse(at));
    const env = { ...process.env, BENCHMEET_TEST_AS_PROGRAM: '1', BENCHMEET_TEST_CLOCK: clock.file };
    return [await Hall.start(binary, folder, [], env), clock];
  }

  private static async start(binary: string, folder: string, more: string[], env = process.env): Promise<Hall> {
    const server = spawn(binary, ['serve', '--listen', '127.0.0.1:0', '--data', join(folder, 'data'), ...more], {
      env,
    });
    const link = await new Promise<string>((found, failed) => {
      let printed = '';
      server.stdout.on('data', (text: Buffer) => {
        printed += text.toString();
        const sign = /(http:\S+)\/desk#token=(\S+)/.exec(printed);
        if (sign) found(`${sign[1]} ${sign[2]}`);
      });
      server.on('exit', (code) => failed(new Error(`the server ended with ${code}: ${printed}`)));
    });
    const [address, token] = link.split(' ') as [string, string];
    return new Hall(address, token, server, folder, binary);
  }

  /** signIn makes a link for the desk, which signs in one browser. */
  async signIn(role = 'organiser', label = 'desk'): Promise<string> {
    return (await this.ask<{ links: string[] }>('POST', '/tokens', { role, label })).links[0]!;
  }

  async close(): Promise<void> {
    this.server.removeAllListeners('exit');
    const ended = new Promise((done) => this.server.once('exit', done));
    this.server.kill('SIGTERM');
    await ended;
    rmSync(this.folder, { recursive: true, force: true });
  }

  /** ask calls the API as the organiser; it throws on a no. */
  async ask<T>(method: string, path: string, body?: unknown): Promise<T> {
    const answer = await fetch(`${this.address}/api/v1${path}`, {
      method,
      headers: {
        Authorization: `Bearer ${this.token}`,
        ...(method === 'GET' ? {} : { 'Idempotency-Key': randomUUID() }),
        ...(body === undefined ? {} : { 'Content-Type': 'application/json' }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const text = await answer.text();
    if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${text}`);
    return (text === '' ? undefined : JSON.parse(text)) as T;
  }

  /** log is the types of the events of a meet, in order. */
  async log(meet: string): Promise<string[]> {
    const answer = await fetch(`${this.address}/api/v1/meets/${meet}/log`, {
      headers: { Authorization: `Bearer ${this.token}` },
    });
    const lines = (await answer.text()).trim().split('\n');
    return lines.map((line) => /"type":"(\w+)"/.exec(line)?.[1] ?? line);
  }

  async addBenches(...numbers: number[]): Promise<void> {
    for (const number of numbers) await this.ask('PUT', `/benches/b${number}`, { number, circumference_mm: 94.25 });
  }

  /** phoneFor makes a volunteer's link for these benches, and the token's id. */
  async phoneFor(...benches: string[]): Promise<{ link: string; id: string }> {
    const made = await this.ask<{ links: string[]; token: { id: string } }>('POST', '/tokens', {
      role: 'volunteer',
      label: 'phone',
      benches,
    });
    return { link: made.links[0]!, id: made.token.id };
  }

  /** boxKey makes the key of the counter box at a bench. */
  async boxKey(bench: string): Promise<string> {
    return (
      await this.ask<{ secret: string }>('POST', '/tokens', { role: 'box', label: 'counter box', benches: [bench] })
    ).secret;
  }

  /** planMeet plans a meet of one division on these benches with cars 7, 8, … and draws its first round. */
  async planMeet(
    meet: string,
    benches: string[],
    cars: number,
    raceS: number,
    callS = 120,
    lanes = benches.length,
    nicknames?: readonly string[],
  ): Promise<void> {
    await this.ask('POST', '/meets', {
      id: meet,
      plan: { name: 'Harbour Hall spring meet', place: 'Harbour Hall', date: '2027-04-17' },
      rules: {
        ...usualRules,
        call_s: callS,
      },
    });
    for (const bench of benches) await this.ask('PUT', `/meets/${meet}/benches/${bench}`);
    await this.ask('PUT', `/meets/${meet}/divisions/junior`, {
      name: 'Juniors 6 to 10',
      age_from: 6,
      age_to: 10,
      class: {
        name: 'Two-cell open class',
        lap_m: 3,
        release: 'Hold the car above the rollers with the motor running; let go on the signal.',
      },
      stages: [{ kind: 'timed-rounds', rounds: 2, race_s: raceS, lanes, rule: 'best' }],
    });
    const names = ['Lantern', 'Puffin', 'Turbot', 'Nutmeg', 'Zigzag', 'Otter'];
    for (let i = 0; i < cars; i++) {
      const name = nicknames?.[i] ?? (i < names.length ? names[i]! : `${names[i % names.length]} ${i}`);
      const person = {
        name: `Kit ${name}`,
        display_name: name,
        birth_date: '2019-05-02',
        on_screen: true,
        in_results: true,
        photo: false,
      };
      await this.ask('POST', `/meets/${meet}/entries`, {
        id: `e${i + 7}`,
        division: 'junior',
        start_number: i + 7,
        person,
      });
      await this.ask('POST', `/meets/${meet}/entries/e${i + 7}/check-in`, { there: true });
    }
    await this.ask('POST', `/meets/${meet}/divisions/junior/entries-closed`, { closed: true });
    await this.ask('POST', `/meets/${meet}/divisions/junior/draw`);
  }

  /** call calls a heat and tells which car goes to which bench. */
  async call(meet: string, heat: string): Promise<Record<string, Lane>> {
    await this.ask('POST', `/meets/${meet}/heats/${heat}/call`, {});
    return this.lanes(meet, heat);
  }

  async lanes(meet: string, heat: string): Promise<Record<string, Lane>> {
    const { heats } = await this.ask<{ heats: { id: string; lanes: Lane[] }[] }>('GET', `/meets/${meet}/heats`);
    return Object.fromEntries(heats.find((one) => one.id === heat)!.lanes.map((lane) => [lane.bench, lane]));
  }

  ready(meet: string, heat: string, bench: string, number: number): Promise<unknown> {
    return this.ask('POST', `/meets/${meet}/heats/${heat}/ready`, { bench, start_number: number });
  }

  start(meet: string, heat: string): Promise<unknown> {
    return this.ask('POST', `/meets/${meet}/heats/${heat}/start`);
  }
}

/** SteppedClock is the clock of a server, in ms since 1970. */
export class SteppedClock {
  constructor(
    readonly file: string,
    private at: number,
  ) {
    this.hold();
  }

  get now(): number {
    return this.at;
  }

  /** step sets it on. */
  step(to: number): void {
    this.at = Math.max(this.at, to);
    this.hold();
  }

  /** hold has the server's clock say what this one does: it has gone on with the machine's. */
  hold(): void {
    writeFileSync(`${this.file}.new`, `${Math.round(this.at - Date.now())}ms`);
    renameSync(`${this.file}.new`, this.file);
  }
}

/** Lane as the tests look at it. */
export interface Lane {
  bench: string;
  racer: { entry: string; start_number: number };
  armed?: string;
  run?: string;
  state: string;
}

const everyTurn = (turn: number): boolean => turn >= 0;

/**
 * CounterBox is the microcontroller at a bench. Its roller comes up to speed in
 * half a second and then turns evenly.
 */
export class CounterBox {
  private readonly boot = randomBytes(8).toString('hex');
  private clock = 5_000_000;

  constructor(
    private readonly hall: Hall,
    private readonly bench: string,
    /** The meet that it races in; none in practice. */
    private readonly meet?: string,
  ) {}

  /** begin takes a run up; send hands in the stamps of some seconds, and the last of them end it. */
  begin(run: string, seconds: number, rpm = 6000, seen = everyTurn): { send(seconds: number): Promise<void> } {
    const startUS = this.clock;
    const riseS = 0.5;
    /** When the roller has made so many turns, in µs after the start. */
    const after = (turns: number) => {
      const perS = rpm / 60;
      const rising = (perS * riseS) / 2;
      return Math.round(
        1e6 * (turns < rising ? Math.sqrt((2 * turns * riseS) / perS) : riseS + (turns - rising) / perS),
      );
    };
    let number = 0;
    let turn = 0;
    let sent = 0;
    let at = 0;
    return {
      send: async (more) => {
        at = Math.min(seconds, at + more);
        const stamps: number[] = [];
        for (; after(turn + 1) <= at * 1e6; turn++) if (seen(turn)) stamps.push(startUS + after(turn + 1));
        sent += stamps.length;
        const last = at >= seconds && {
          chunks: number + 1,
          stamps: sent,
          start_source: 'bench_clock',
          start_us: startUS,
          duration_us: seconds * 1e6,
          ...(this.meet ? { meet: this.meet } : {}),
        };
        await this.hall.ask('POST', `/benches/${this.bench}/chunks`, {
          boot: this.boot,
          run,
          number: number++,
          stamps_us: stamps,
          ...(last ? { last } : {}),
        });
        if (last) this.clock += (seconds + 10) * 1e6;
      },
    };
  }

  /** run makes a whole run at once; `seen` says of which turns the sensor saw the mark. */
  run(run: string, seconds: number, rpm = 6000, seen = everyTurn): Promise<void> {
    return this.begin(run, seconds, rpm, seen).send(seconds);
  }
}
