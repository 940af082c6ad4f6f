import type { Schema } from '$lib/api';
import { serverClock } from '$lib/live';
import type { Draft } from '../queue';
import type { OnBench } from '../scene';

/** How the pretend hall answers, in ms: the starter, the counter box behind the end of the race, an official. */
const waits = { starter: 6_000, box: 2_000, official: 5_000 };
const number = 42;
const raceS = 15;
const lapM = 3;
/** The pretend car comes up to its speed like this, in m/s and s. */
const fullMps = 2.6;
const riseS = 0.8;

/** distanceAt is how far the pretend car is after so many seconds, in m: its speed is full(1 - e^(-t/rise)). */
export const distanceAt = (s: number): number => fullMps * (s - riseS * (1 - Math.exp(-s / riseS)));

/**
 * Drill is a heat of one pretend car, all of it on this page: the call, the starter, the race, the counter box and the
 * official are played here. It takes the orders of the bench's own pages and hands them to nobody: it knows no queue
 * and no server.
 */
export class Drill {
  step = $state<'called' | 'ready' | 'racing' | 'done'>('called');
  /** The pretend network is away: then a count by hand is due. */
  cutOff = $state(false);
  /** How a request for a re-run stands. */
  asked = $state<'waiting' | 'granted'>();
  counted = $state.raw<{ distance_m: number; u_distance_m: number }>();
  /** What the pages remember requests in; this one keeps nothing. */
  readonly asks = { list: [], add: () => {} };
  #started: number | undefined = $state();
  #timers: ReturnType<typeof setTimeout>[] = [];

  constructor(readonly bench: string) {}

  get lane(): OnBench {
    return {
      at: { meet: 'drill', heat: 'drill', bench: this.bench, entry: 'drill', number },
      name: undefined,
      raceS,
      lapM,
      release: undefined,
      run: 'drill',
      deadline: undefined,
      started: this.#started,
      rerunAsked: this.asked !== undefined,
      pack: undefined,
      packDealt: false,
      packValid: undefined,
      missing: [],
      held: false,
    };
  }

  /** speed is what the pretend counter box sends now; nothing while it is cut off. */
  get speed(): Schema['LiveSpeed'] | undefined {
    if (this.#started === undefined || this.cutOff) return undefined;
    const elapsed = Math.min(raceS, Math.max(0, (serverClock.now - this.#started) / 1000));
    const distance = distanceAt(elapsed);
    const speed = fullMps * (1 - Math.exp(-elapsed / riseS));
    return {
      bench: this.bench,
      run: 'drill',
      rpm: 0,
      speed_mps: speed,
      distance_m: distance,
      laps: Math.floor(distance / lapM),
      elapsed_s: elapsed,
    };
  }

  /** done is the lane as it is once the run is in, measured or counted. */
  get done(): { heat: Schema['Heat']; lane: Schema['Lane'] } {
    const measured = { distance_m: distanceAt(raceS), u_distance_m: 0.05 };
    const { distance_m, u_distance_m } = this.counted ?? measured;
    const lane: Schema['Lane'] = {
      racer: { entry: 'drill', start_number: number },
      bench: this.bench,
      state: 'done',
      run: 'drill',
      source: this.counted ? 'hand' : 'bench',
      distance_m,
      u_distance_m,
      laps: Math.floor(distance_m / lapM),
      ...(!this.counted && { max_speed_mps: fullMps }),
    };
    const heat: Schema['Heat'] = {
      id: 'drill',
      division: 'drill',
      stage: 1,
      round: 1,
      number: 1,
      phase: 'provisional',
      lanes: [lane],
      race_s: raceS,
    };
    return { heat, lane };
  }

  /** give takes an order of the bench's pages, and goes on as the hall would. It goes nowhere. */
  give = (draft: Draft): Promise<void> => {
    if (draft.kind === 'ready') {
      this.step = 'ready';
      this.#after(waits.starter, this.#start);
    } else if (draft.kind === 'not-ready') {
      this.end();
      this.step = 'called';
    } else if (draft.kind === 'hand') {
      const { distance_m, u_distance_m } = JSON.parse(draft.body) as { distance_m: number; u_distance_m: number };
      this.counted = { distance_m, u_distance_m };
      this.step = 'done';
    } else if (draft.kind === 'rerun') {
      this.asked = 'waiting';
      this.#after(waits.official, () => (this.asked = 'granted'));
    }
    return Promise.resolve();
  };

  /** again calls the car once more. */
  again = (): void => {
    this.end();
    this.step = 'called';
    this.asked = undefined;
    this.counted = undefined;
    this.#started = undefined;
  };

  /** end stops the pretend hall. */
  end = (): void => {
    this.#timers.forEach(clearTimeout);
    this.#timers = [];
  };

  #start = (): void => {
    this.#started = serverClock.read();
    this.step = 'racing';
    this.#after(raceS * 1000 + waits.box, this.#handIn);
  };

  /** The counter box hands its run in; while the network is away it tries again. */
  #handIn = (): void => {
    if (this.step !== 'racing') return;
    if (this.cutOff) this.#after(waits.box, this.#handIn);
    else this.step = 'done';
  };

  #after(ms: number, then: () => void): void {
    this.#timers.push(setTimeout(then, ms));
  }
}
