import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium, type BrowserContext } from '@playwright/test';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** SecureHall is a real server that speaks http and, by its own authority, https; it can be away for a while. */
export class SecureHall {
  private server: ChildProcess | undefined;
  private token = '';

  private constructor(
    private readonly binary: string,
    private readonly folder: string,
    private readonly ports: { plain: number; secure: number },
  ) {}

  static async open(): Promise<SecureHall> {
    const folder = mkdtempSync(join(tmpdir(), 'benchmeet-tls-'));
    let binary = process.env['BENCHMEET_BINARY'];
    if (!binary) {
      binary = join(folder, 'benchmeet');
      execFileSync('go', ['build', '-o', binary, './cmd/benchmeet'], { cwd: root, stdio: 'inherit' });
    }
    const hall = new SecureHall(binary, folder, { plain: await freePort(), secure: await freePort() });
    await hall.start();
    return hall;
  }

  get plain(): string {
    return `http://127.0.0.1:${this.ports.plain}`;
  }

  get secure(): string {
    return `https://127.0.0.1:${this.ports.secure}`;
  }

  async start(): Promise<void> {
    const server = spawn(this.binary, [
      'serve',
      ...[
        '--listen',
        `127.0.0.1:${this.ports.plain}`,
        '--tls',
        'local',
        '--tls-listen',
        `127.0.0.1:${this.ports.secure}`,
      ],
      ...['--data', join(this.folder, 'data')],
    ]);
    this.server = server;
    await new Promise<void>((found, failed) => {
      let printed = '';
      server.stdout.on('data', (text: Buffer) => {
        printed += text.toString();
        const key = /#token=(\S+)/.exec(printed)?.[1];
        if (key) this.token = key;
        if (key || printed.includes('--new-sign-in')) found();
      });
      server.on('exit', (code) => failed(new Error(`the server ended with ${code}: ${printed}`)));
    });
  }

  async stop(): Promise<void> {
    const server = this.server!;
    server.removeAllListeners('exit');
    const ended = new Promise((done) => server.once('exit', done));
    server.kill('SIGTERM');
    await ended;
  }

  async close(): Promise<void> {
    await this.stop();
    rmSync(this.folder, { recursive: true, force: true });
  }

  get signIn(): string {
    return `/desk#token=${this.token}`;
  }

  /** ask calls the API as the organiser, over plain http on this machine; it throws on a no. */
  async ask<T>(method: string, path: string, body?: unknown): Promise<T> {
    const answer = await fetch(`${this.plain}/api/v1${path}`, {
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

  /** phone is a browser of its own; one that trusts has the authority of the page /trust among its own. */
  async phone(trusts: boolean): Promise<BrowserContext> {
    const home = mkdtempSync(join(this.folder, 'phone-'));
    if (trusts) {
      const base = join(home, '.pki', 'nssdb');
      mkdirSync(base, { recursive: true });
      const file = join(home, 'authority.crt');
      const answer = await fetch(`${this.plain}/trust/benchmeet-authority.crt`);
      writeFileSync(file, Buffer.from(await answer.arrayBuffer()));
      execFileSync('certutil', ['-d', `sql:${base}`, '-N', '--empty-password']);
      execFileSync('certutil', ['-d', `sql:${base}`, '-A', '-t', 'C,,', '-n', 'hall', '-i', file]);
    }
    return chromium.launchPersistentContext(join(home, 'profile'), {
      executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
      env: { ...process.env, HOME: home } as Record<string, string>,
      args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking'],
      viewport: { width: 390, height: 844 },
    });
  }
}

async function freePort(): Promise<number> {
  const probe = createServer();
  await new Promise<void>((done) => probe.listen(0, '127.0.0.1', done));
  const { port } = probe.address() as AddressInfo;
  await new Promise((done) => probe.close(done));
  return port;
}
