import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { BadWifi, faults, ModelServer, seeded, seedOf, type Fault } from '../../../test/bad-wifi';
import type { Draft, Kind } from './order';
import { OrderQueue } from './queue.svelte';
import { send } from './send';
import { openStore } from './store';
import { openTabs } from './tabs';

const mixtures = 500;
/** Time runs a thousand times as fast as on a phone: waits are in ms instead of s. */
const soon = { silence: 8, order: 10 };
const kinds: Kind[] = ['ready', 'rerun', 'hand', 'practice'];

/** A phone with its pages, before a bad network. Its clock is `aged` ms ahead of this machine's. */
class Phone {
  readonly pages: { queue: OrderQueue; die(): void }[] = [];
  /** What pages said was carried out, by body. */
  readonly told = new Set<string>();
  aged = 0;

  constructor(
    readonly name: string,
    readonly wifi: BadWifi,
  ) {}

  open(): void {
    let dead = false;
    const tabs = openTabs(this.name, () => this.now());
    const queue = new OrderQueue({
      open: () => openStore(this.name),
      // What a page that died had sent may arrive all the same; nobody hears the answer.
      send: async (order, signal) => {
        const outcome = await send(order, this.wifi.fetch, signal, soon);
        return dead ? new Promise(() => {}) : outcome;
      },
      now: () => this.now(),
      after: (ms, then) => (dead ? 0 : setTimeout(() => void (dead || then()), ms / 1000)),
      cancel: (timer) => clearTimeout(timer as NodeJS.Timeout),
      tabs: () => ({
        ...tabs,
        take: async (ms) => (dead ? new Promise(() => {}) : tabs.take(ms / 100)),
        hear: (then) => tabs.hear((done) => void (dead || then(done))),
      }),
    });
    queue.onDone((order) => this.told.add(order.body));
    this.pages.push({ queue, die: () => (dead = true) });
  }

  /** dies with its page: another takes over. */
  reload(page: number): void {
    this.pages.splice(page, 1)[0]!.die();
    this.open();
  }

  now(): number {
    return Date.now() + this.aged;
  }
}

const moment = (ms = 0) => new Promise((next) => setTimeout(next, ms));

async function mixture(seed: number, met: Map<Fault, number>) {
  const random = seeded(seed);
  const pick = (n: number) => Math.floor(random() * n);
  const server = new ModelServer();
  const wifi = new BadWifi(server, random, 0.4 + 0.55 * random());
  const phone = new Phone(`phone-${seed}`, wifi);
  phone.open();
  if (random() < 0.4) phone.open(); // a second tab
  const given: { body: string; poison: boolean }[] = [];
  const back = new Set<string>();
  const steps = 8 + pick(12);
  for (let step = 0; step < steps; step++) {
    const { queue } = phone.pages[pick(phone.pages.length)]!;
    const doing = random();
    if (doing < 0.5 && given.length < 5) {
      const kind = kinds[pick(kinds.length)]!;
      const poison = random() < 0.15;
      const body = JSON.stringify({ order: `${poison ? 'poison' : 'thing'}-${seed}-${given.length}.` });
      const draft: Draft = { kind, path: '/api/v1/meets/m/heats/h/' + kind, body, bench: 'b1' };
      given.push({ body, poison });
      await queue.put(draft);
    } else if (doing < 0.6) phone.reload(pick(phone.pages.length));
    else if (doing < 0.72) {
      const mine = queue.unsent;
      const one = mine[pick(mine.length)];
      if (one) {
        back.add(one.body);
        await queue.takeBack(one.n);
      }
    } else if (doing < 0.8)
      phone.aged += 20_000 + pick(400_000); // the network is away for a while
    else if (doing < 0.9) [server.signedIn, server.paused] = [random() > 0.3, random() < 0.3];
    else queue.hurry();
    await moment(pick(40));
  }
  // In the end the network is well, somebody has signed in, and the phone shows one page.
  wifi.rate = 0;
  [server.signedIn, server.paused] = [true, false];
  while (phone.pages.length > 1) phone.pages.pop()!.die();
  phone.reload(0);
  const { queue } = phone.pages[0]!;
  await queue.takeBack(-1); // nothing is taken back, but what the phone holds has been read
  const open = () => queue.unsent.filter((order) => !order.body.includes('poison'));
  for (let waited = 0; waited < 400; waited++) {
    await moment(5);
    if (waited > 30 && queue.lasting && open().length === 0) break;
    if (waited % 20 !== 10) continue;
    phone.aged += 20_000; // a turn that a dead page had is over
    queue.hurry();
  }
  wifi.deliverAll();
  phone.pages[0]!.die();
  judge();
  for (const [fault, n] of wifi.met) met.set(fault, (met.get(fault) ?? 0) + n);

  function judge(): void {
    const about = (text: string) =>
      `seed ${seed}: ${text}\n${JSON.stringify([queue.unsent, queue.refused, server.log], undefined, 1)}`;
    expect(open(), about('an order that is no poison stays unsent')).toEqual([]);
    for (const { body, poison } of given) {
      const times = server.done(body);
      const end = queue.refused.find((order) => order.body === body);
      const shown = [...queue.unsent, ...queue.refused].filter((order) => order.body === body);
      expect(shown.length, about(`${body} is shown more than once`)).toBeLessThanOrEqual(1);
      if (poison) expect(times, about(`${body} was never taken`)).toBe(0);
      else if (!end && !back.has(body)) expect(times, about(`${body} is gone from the phone as carried out`)).toBe(1);
      // Taken back: gone without a word only if it was not carried out, or a page said that it was.
      else if (!end)
        expect(times, about(`${body} is gone from the phone, taken back`)).toBe(
          phone.told.has(body) ? 1 : times === 0 ? 0 : -1,
        );
      else
        expect(times, about(`${body} is said to be ${end.refused!.kind ?? 'refused'}`)).toBe(
          end.refused!.kind === 'done' ? 1 : 0,
        );
      expect(end?.refused?.kind, about(`${body}: nobody can say`)).not.toBe('unknown');
    }
  }
}

test(
  `${mixtures} mixtures of what bad Wi-Fi does to a phone: each order is in the log once, or the phone says that it is not`,
  { timeout: 240_000 },
  async () => {
    const first = seedOf('orders of the bench');
    const met = new Map<Fault, number>();
    // Many at once, because they wait most of the time. How many faults they meet depends on how
    // busy this machine is; mixtures without any prove nothing, so a busy one does some more.
    const together = 125;
    const enough = () =>
      faults.every((fault) => (met.get(fault) ?? 0) > mixtures / 50) &&
      [...met.values()].reduce((sum, n) => sum + n, 0) > mixtures;
    for (let n = 0; n < mixtures || (!enough() && n < 2 * mixtures); n += together) {
      await Promise.all(Array.from({ length: together }, (_, i) => mixture((first + n + i) % 2 ** 31, met)));
    }
    expect(enough(), JSON.stringify(Object.fromEntries(met))).toBe(true);
  },
);
