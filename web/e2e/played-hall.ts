import type { Hall, SteppedClock } from './bench-hall';

/** PlannedHeat is a heat of the day plan as everybody may see it. */
export interface PlannedHeat {
  heat: string;
  phase: string;
  likely?: string;
  not_before?: string;
  cars: { entry: string; start_number: number }[];
}

interface Standing {
  heat: string;
  benches: string[];
  /** When it starts or, once it has, when it is over. */
  at: number;
  started: boolean;
}

/** chance is a random source that gives the same numbers for the same seed. */
function chance(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

const raceMs = 60_000;

/**
 * PlayedDay races a day as people would: heats in the order of the plan, none before the time that it was told, and
 * each thing takes as long as it takes. The clock is stepped from one thing that happens to the next, so that hours
 * pass in seconds, and the same seed gives the same day.
 */
export class PlayedDay {
  private readonly random: () => number;
  private standing: Standing[] = [];
  /** From when on a bench is free for the next call. */
  private readonly changed = new Map<string, number>();
  private readonly closing = new Map<string, number>();
  /** When each heat was called, and before when it was not to be. */
  readonly called: { heat: string; at: number; notBefore: number | undefined; benches: string[] }[] = [];
  /** When the last race was over. */
  over = 0;

  constructor(
    private readonly hall: Hall,
    private readonly clock: SteppedClock,
    private readonly meet: string,
    private readonly benches: string[],
    seed: number,
  ) {
    this.random = chance(seed);
  }

  /** ask asks at this instant of the day. */
  ask<T>(method: string, path: string, body?: unknown): Promise<T> {
    this.clock.hold();
    return this.hall.ask<T>(method, `/meets/${this.meet}${path}`, body);
  }

  waiting = async (): Promise<PlannedHeat[]> =>
    (await this.ask<{ heats: PlannedHeat[] }>('GET', '/day-plan')).heats.filter((heat) => heat.phase === 'drawn');

  /** fails takes a bench out that nobody stands at, and says which; undefined where somebody stands at each. */
  async fails(): Promise<string | undefined> {
    const taken = new Set(this.standing.flatMap((heat) => heat.benches));
    const at = this.benches.findLastIndex((bench) => !taken.has(bench));
    if (at < 0) return undefined;
    return this.benches.splice(at, 1)[0]!;
  }

  /** takes is how long something takes this time, in ms: about so many seconds, and sometimes half as long again. */
  private takes(seconds: number): number {
    const bell = Math.sqrt(-2 * Math.log(1 - this.random())) * Math.cos(2 * Math.PI * this.random());
    return Math.round(1000 * seconds * Math.exp(0.3 * bell - 0.045));
  }

  /** play goes on until an instant, or to the end of the day; it says whether anything is left. */
  async play(until = Infinity): Promise<boolean> {
    for (;;) {
      await this.happen();
      const next = Math.min(await this.closeRounds(), await this.callHeats(), ...this.standing.map((heat) => heat.at));
      if (next === Infinity) return false;
      if (next >= until) return true;
      this.clock.step(next);
    }
  }

  private async happen(): Promise<void> {
    const now = this.clock.now;
    for (const heat of this.standing.filter(({ at }) => at <= now)) {
      const lanes = Object.values(await this.hall.lanes(this.meet, heat.heat));
      if (!heat.started) {
        for (const { bench, racer } of lanes)
          await this.ask('POST', `/heats/${heat.heat}/ready`, { bench, start_number: racer.start_number });
        await this.ask('POST', `/heats/${heat.heat}/start`);
        [heat.started, heat.at] = [true, now + raceMs + this.takes(18)];
        continue;
      }
      for (const { racer } of lanes)
        await this.ask('POST', `/heats/${heat.heat}/hand-count`, {
          entry: racer.entry,
          distance_m: 300 - racer.start_number + this.called.length / 100,
          u_distance_m: 0.9,
        });
      for (const bench of heat.benches) this.changed.set(bench, now + this.takes(45));
      this.standing = this.standing.filter((other) => other !== heat);
      this.over = now;
    }
  }

  /** closeRounds closes and draws what is due, and says when the next round is. */
  private async closeRounds(): Promise<number> {
    const { divisions } = await this.ask<{
      divisions: { id: string; stage: number; round: number; rounds_total: number; round_closed: boolean }[];
    }>('GET', '');
    const { heats } = await this.ask<{
      heats: { division: string; round: number; phase: string; protest_until?: string }[];
    }>('GET', '/heats');
    for (const { id, round, rounds_total, round_closed } of divisions) {
      const own = heats.filter((heat) => heat.division === id && heat.round === round);
      if (round_closed || !own.every(({ phase }) => phase === 'provisional' || phase === 'official')) continue;
      const due = this.closing.get(`${id} ${round}`);
      if (due === undefined) {
        const protests = Math.max(this.clock.now, ...own.map((heat) => Date.parse(heat.protest_until ?? '') || 0));
        this.closing.set(`${id} ${round}`, protests + this.takes(60));
      } else if (due <= this.clock.now) {
        this.closing.delete(`${id} ${round}`);
        await this.ask('POST', `/divisions/${id}/close`, {});
        if (round < rounds_total) await this.ask('POST', `/divisions/${id}/draw`);
      }
    }
    return Math.min(Infinity, ...this.closing.values());
  }

  /** callHeats calls what may be called, and says when the next heat may be where that is known. */
  private async callHeats(): Promise<number> {
    for (;;) {
      const first = (await this.waiting())[0];
      if (!first) return Infinity;
      const told = first.not_before ? Date.parse(first.not_before) : undefined;
      if (told !== undefined && told > this.clock.now) return told;
      const taken = new Set(this.standing.flatMap((heat) => heat.benches));
      const away = this.benches.filter((bench) => !taken.has(bench)).map((bench) => this.changed.get(bench) ?? 0);
      const free = away.filter((at) => at <= this.clock.now).length;
      if (first.cars.length > free) return Math.min(Infinity, ...away.filter((at) => at > this.clock.now));
      await this.ask('POST', `/heats/${first.heat}/call`, {});
      const benches = Object.keys(await this.hall.lanes(this.meet, first.heat));
      this.called.push({ heat: first.heat, at: this.clock.now, notBefore: told, benches });
      this.standing.push({ heat: first.heat, benches, at: this.clock.now + this.takes(120), started: false });
    }
  }
}
