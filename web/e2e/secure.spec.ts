import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createServer, type TLSSocket } from 'node:tls';
import type { AddressInfo } from 'node:net';
import { expect, test, type BrowserContext, type Page } from '@playwright/test';
import { SecureHall } from './secure-hall';

let hall: SecureHall;
let phone: BrowserContext;
let key: string;
test.describe.configure({ mode: 'serial' });
test.beforeAll(async () => {
  test.setTimeout(120_000);
  hall = await SecureHall.open();
  await hall.ask('PUT', '/benches/b1', { number: 1, circumference_mm: 94.25 });
  const made = await hall.ask<{ secret: string }>('POST', '/tokens', {
    role: 'bench',
    label: 'phone',
    benches: ['b1'],
  });
  key = made.secret;
  phone = await hall.phone(true);
});
test.afterAll(async () => {
  await phone?.close();
  await hall?.close();
});

const bench = (address: string) => `${address}/bench/b1#token=${key}`;

/** kept waits until the phone has kept the bench page. */
const kept = (page: Page) =>
  expect
    .poll(() => page.evaluate(async () => (await navigator.serviceWorker.getRegistration('/bench'))?.active?.state))
    .toBe('activated');

test('a phone that trusts the authority works over https: bench, desk and live feed', async () => {
  const page = await phone.newPage();
  const feeds: string[] = [];
  page.on('websocket', (feed) => feeds.push(feed.url()));
  await page.goto(bench(hall.secure));
  await expect(page.getByText('No car is called to this bench.')).toBeVisible();
  expect(await page.evaluate(() => isSecureContext)).toBe(true);
  // Practice shows what another tells the server, by the live feed.
  await hall.ask('POST', '/benches/b1/practice', { car_number: 12, race_s: 60 });
  await expect(page.getByText('Practice of car 12.')).toBeVisible();
  await expect.poll(() => feeds.some((one) => one.startsWith('wss://'))).toBe(true);
  await kept(page);

  const cookies = await phone.cookies(hall.secure);
  expect(cookies.map((one) => [one.name, one.secure, one.httpOnly])).toEqual([['__Host-benchmeet', true, true]]);
  await page.close();

  const desk = await phone.newPage();
  await desk.goto(hall.secure + hall.signIn);
  await expect(desk.getByText('Your key is for').or(desk.getByRole('heading').first())).toBeVisible();
  await desk.close();
});

test('the bench page opens without the server, and goes on when it is back', async () => {
  const page = await phone.newPage();
  await page.goto(`${hall.secure}/bench/b1`);
  await expect(page.getByText('Practice of car 12.')).toBeVisible();
  await hall.stop();
  await page.reload();
  await expect(page.getByText('The server cannot be reached.')).toBeVisible({ timeout: 20_000 });
  // What the server said before is not shown as if it said it now.
  await expect(page.getByText('Practice of car 12.')).toHaveCount(0);
  await hall.start();
  await expect(page.getByText('Practice of car 12.')).toBeVisible({ timeout: 30_000 });
  const names = await page.evaluate(async () =>
    (
      await Promise.all(
        (await caches.keys()).map(async (one) => (await (await caches.open(one)).keys()).map((r) => r.url)),
      )
    ).flat(),
  );
  expect(names.length).toBeGreaterThan(10);
  expect(names.filter((one) => one.includes('/api/'))).toEqual([]);
  await page.close();
});

test('plain http stays open beside it, says what it means, and takes a phone to the other address', async () => {
  const page = await phone.newPage();
  await page.goto(bench(hall.plain));
  await expect(page.getByText('Practice of car 12.')).toBeVisible();
  expect(page.url()).toContain('http://');
  await page.goto(`${hall.plain}/trust`);
  await expect(page.getByRole('heading', { name: 'The encrypted address' }).first()).toBeVisible();
  const about = await hall.ask<{ secure: { authority: { fingerprint: string } } }>('GET', '/about');
  await expect(page.getByText(about.secure.authority.fingerprint.toUpperCase().match(/../g)!.join(' '))).toBeVisible();
  const download = page.waitForEvent('download');
  await page.getByRole('link', { name: 'Load the certificate' }).click();
  expect((await download).suggestedFilename()).toBe('benchmeet-authority.crt');
  await expect(page.getByRole('heading', { name: 'Take it back' })).toBeVisible();
  await page.close();
});

test('a phone tells somebody in the server’s place nothing, and one that does not trust tells nobody', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'benchmeet-impostor-'));
  const [cert, secret] = [join(folder, 'cert.pem'), join(folder, 'key.pem')];
  execFileSync('openssl', [
    ...['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-days', '2'],
    ...['-subj', '/CN=127.0.0.1', '-addext', 'subjectAltName=IP:127.0.0.1', '-keyout', secret, '-out', cert],
  ]);
  let read = 0;
  let hellos = 0;
  const impostor = createServer({ cert: readFileSync(cert), key: readFileSync(secret) });
  impostor.on('connection', () => hellos++);
  impostor.on('secureConnection', (socket: TLSSocket) => socket.on('data', (text) => (read += text.length)));
  impostor.on('tlsClientError', () => {});
  await new Promise<void>((done) => impostor.listen(0, '127.0.0.1', done));
  const there = `https://127.0.0.1:${(impostor.address() as AddressInfo).port}`;
  const stranger = await hall.phone(false);
  try {
    // Cookies know no ports: a phone that is signed in would send its key there.
    const page = await phone.newPage();
    await expect(page.goto(`${there}/bench/b1`)).rejects.toThrow(/ERR_CERT_AUTHORITY_INVALID/);
    await page.close();
    const other = await stranger.newPage();
    await expect(other.goto(bench(there))).rejects.toThrow(/ERR_CERT_AUTHORITY_INVALID/);
    await expect(other.goto(bench(hall.secure))).rejects.toThrow(/ERR_CERT_AUTHORITY_INVALID/);
    expect(hellos).toBeGreaterThan(1);
    expect(read).toBe(0);
    expect(await stranger.cookies()).toEqual([]);
  } finally {
    await stranger.close();
    impostor.close();
    rmSync(folder, { recursive: true, force: true });
  }
});
