import { beforeEach, expect, test, vi } from 'vitest';
import { BadWifi, faults, ModelServer, seeded, seedOf, type Fault } from '../../../test/bad-wifi';
import { ask, connect } from './client';
import { Order } from './order.svelte';
import { unsettled } from './unsettled';

const mixtures = 500;
/** Time runs a thousand times as fast as in the hall. */
const soon = { silence: 6, order: 12 };
const pause = (ms: number) => new Promise<void>((next) => setTimeout(next, ms / 1000));

beforeEach(() => sessionStorage.clear());

/**
 * Somebody at the desk wants some things done, over a bad network, and presses until
 * the button says that each is done or why not. Some are wanted a second time.
 */
async function mixture(seed: number, met: Map<Fault, number>) {
  const random = seeded(seed);
  const server = new ModelServer();
  const wifi = new BadWifi(server, random, 0.2 + 0.6 * random());
  const api = connect(wifi.fetch, soon, pause);
  const button = () =>
    new Order((key: string, text: string) =>
      ask(
        api.POST('/api/v1/meets/{meet}/rulings', {
          params: { path: { meet: `m${seed}` }, header: { 'Idempotency-Key': key } },
          body: { kind: 'accept-run', reason: { code: 'other', text } },
        }),
      ),
    );
  let order = button();
  const said: string[] = [];
  const wanted = Array.from({ length: 1 + Math.floor(random() * 3) }, (_, n) => ({
    text: `thing-${seed}-${n}.`,
    times: 0,
    over: false,
  }));
  for (let press = 0; wanted.some((one) => !one.over); press++) {
    if (press > 25) wifi.rate = 0; // the network is well again
    expect(press, `seed ${seed}: never answered`).toBeLessThan(60);
    // The page is loaded anew, or the dialog opened again.
    if (random() < 0.15) [order] = [button(), unsettled.reload()];
    [server.signedIn, server.paused] = [random() > 0.15, random() < 0.15];
    const open = wanted.filter((one) => !one.over);
    const one = open[Math.floor(random() * open.length)]!;
    if (await order.send(one.text)) {
      one.times++;
      // What is done is in the log, once for each time that it was wanted.
      expect(server.done(one.text), `seed ${seed}: "${one.text}" is said to be done`).toBe(one.times);
      one.over = random() < 0.7;
    } else if (order.said === 'No: paused.') {
      one.over = true;
      expect(server.done(one.text), `seed ${seed}: "${one.text}" is said not to be done`).toBe(one.times);
    } else {
      said.push(order.said!);
      // Whoever is told that nobody knows, or to sign in, may press again.
      expect(order.said).toMatch(/nothing is done twice|No: (sign-in|internal)\./);
    }
  }
  wifi.deliverAll();
  for (const one of wanted) expect(server.done(one.text), `seed ${seed}: "${one.text}" in the end`).toBe(one.times);
  for (const [fault, n] of wifi.met) met.set(fault, (met.get(fault) ?? 0) + n);
}

test(
  `${mixtures} mixtures of what bad Wi-Fi does: each order stands in the log as often as its button says`,
  { timeout: 120_000 },
  async () => {
    const first = seedOf('orders of the desk');
    vi.spyOn(console, 'warn').mockImplementation(() => {});
    const met = new Map<Fault, number>();
    // Many at once, because they wait most of the time.
    const together = 125;
    for (let n = 0; n < mixtures; n += together) {
      await Promise.all(Array.from({ length: together }, (_, i) => mixture((first + n + i) % 2 ** 31, met)));
    }
    // The test has tested: each fault was met often.
    for (const fault of faults) expect(met.get(fault) ?? 0, fault).toBeGreaterThan(mixtures / 10);
  },
);
