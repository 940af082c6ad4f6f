import { api, ask, once, Problem, type Schema } from '$lib/api';
import { meetFeed, practiceFeed, serverClock, type Feed } from '$lib/live';
import { lastDone, newestOrder } from './scene';

const lookEveryMs = 3_000;
/** A free bench with a counter box looks so often: that the box fell silent is said within 3 s. */
const boxEveryMs = 600;
const lookWithinMs = 6_000;
/** How often a free bench asks whether a meet has it now. */
const meetEveryMs = 30_000;

/** The next look is near, and a page that is cut off should say so at once. */
const soon = once(lookWithinMs);

/**
 * BenchWatch follows one bench: it asks what the bench has to do every few
 * seconds, because a bench page does not know its meet, and listens to the feed of
 * that meet and of practice for what changes at once. Call `start` and `follow`
 * in effects.
 */
export class BenchWatch {
  #feed = $state.raw<Feed>();
  /** The feed of practice, once a bench without a heat needs it. */
  #practice = $state.raw<Feed>();
  #meetID: string | undefined;
  #asked = $state.raw<Schema['BenchOrder']>();
  #lost = $state.raw<Date>();
  #heard = new Date();
  #runs = $state.raw<Schema['Run'][]>([]);
  #ofCar = $state.raw<{ newest: string; runs: Schema['PracticeRun'][] }>();
  /** The server does not know who this phone is. */
  signedOut = $state(false);
  /** Why the server does not show this bench to us. */
  refused = $state<string>();
  #timer: ReturnType<typeof setTimeout> | undefined;
  #looking: Promise<void> | undefined;
  #next: Promise<void> | undefined;
  #looks = 0;
  #meetSought = -meetEveryMs;
  #shown: () => void = () => {};
  /** What the feeds said last. */
  #told: unknown[] = [];
  #clockRead = false;
  #closed = false;

  constructor(readonly bench: string) {}

  get meet(): Schema['Meet'] | undefined {
    return this.#feed?.latest('meet');
  }

  get board(): Schema['Board'] | undefined {
    return this.#feed?.latest('board');
  }

  get meetID(): string | undefined {
    return this.meet?.id;
  }

  get order(): Schema['BenchOrder'] | undefined {
    return newestOrder(this.#asked, this.#feed?.latest(`bench/${this.bench}`), this.meet?.id);
  }

  /** cutOffSince is since when what is shown is old. */
  get cutOffSince(): Date | undefined {
    return this.#lost ?? this.#feed?.cutOffSince ?? this.#practice?.cutOffSince;
  }

  /** speed is the live speed of a run, once there is any. */
  speed(run: string | undefined): Schema['LiveSpeed'] | undefined {
    const topic = `speed/${this.bench}` as const;
    return [this.#feed?.latest(topic), this.#practice?.latest(topic)].find((one) => one?.run === run);
  }

  /** run is a measured run with all its figures. */
  run(id: string | undefined): Schema['Run'] | undefined {
    return this.#runs.find((one) => one.id === id);
  }

  /** practiced is the newest practice run of this bench. */
  get practiced(): Schema['PracticeRun'] | undefined {
    return this.#practice?.latest('practice')?.runs.find((one) => one.bench === this.bench);
  }

  /** practice is the board of practice, once a bench without a heat listens to it. */
  get practice(): Schema['PracticeBoard'] | undefined {
    return this.#practice?.latest('practice');
  }

  /** before are the earlier practice runs of the same car at this bench, newest first. */
  get before(): Schema['PracticeRun'][] {
    const newest = this.practiced;
    if (!newest) return [];
    const known =
      this.#ofCar?.newest === newest.id ? this.#ofCar.runs : (this.#practice?.latest('practice')?.runs ?? []);
    return known.filter((one) => one.bench === this.bench && one.car === newest.car && one.id !== newest.id);
  }

  /** start asks from now on until the function that it returns is called. */
  start(): () => void {
    if (this.#looks === 0 && !this.#looking) void this.look();
    const changed = () => void this.look();
    addEventListener('online', changed);
    addEventListener('offline', changed);
    return () => {
      removeEventListener('online', changed);
      removeEventListener('offline', changed);
      this.#closed = true;
      clearTimeout(this.#timer);
      this.#practice?.close();
      this.#feed?.close();
    };
  }

  /** follow asks at once when the feeds say that something changed; give it to an effect. */
  follow(): void {
    const told = [
      this.#feed?.latest(`bench/${this.bench}`),
      this.#practice?.latest('practice'),
      lastDone(this.board, this.bench)?.lane.run,
    ];
    if (told.every((one, i) => one === this.#told[i])) return;
    this.#told = told;
    queueMicrotask(() => void this.look());
  }

  /** begin asks now, and is over as soon as there is something to show; what else a bench shows comes after. */
  begin(): Promise<void> {
    const shown = new Promise<void>((done) => (this.#shown = done));
    return Promise.race([this.look(), shown]);
  }

  /** look asks now; if it is just asking, once more after that. */
  look(): Promise<void> {
    if (!this.#looking) return this.#begin();
    this.#next ??= this.#looking.then(() => {
      this.#next = undefined;
      return this.#begin();
    });
    return this.#next;
  }

  #begin(): Promise<void> {
    clearTimeout(this.#timer);
    this.#looking = this.#look().finally(() => {
      this.#looking = undefined;
      if (!this.#closed) this.#timer = setTimeout(() => void this.look(), this.#asked?.box ? boxEveryMs : lookEveryMs);
    });
    return this.#looking;
  }

  async #look(): Promise<void> {
    if (this.#closed) return;
    try {
      await this.#ask();
      if (this.#lost) this.#clockRead = false;
      this.#lost = undefined;
      this.#heard = new Date();
    } catch (thrown) {
      if (thrown instanceof Problem) {
        this.signedOut = thrown.status === 401;
        this.refused = thrown.message;
        this.#lost = undefined;
      } else {
        this.#lost ??= this.#heard;
      }
    }
  }

  async #ask(): Promise<void> {
    this.#readClock();
    const params = { path: { bench: this.bench } };
    this.#asked = await ask(api.GET('/api/v1/benches/{bench}/order', { params, ...soon }));
    this.signedOut = false;
    this.refused = undefined;
    this.#shown();
    this.#looks++;
    if (this.#asked.kind !== 'heat' && !this.#closed)
      this.#practice ??= practiceFeed(['practice', `speed/${this.bench}`]);
    if (this.#asked.meet) this.#listen(this.#asked.meet);
    else if (performance.now() - this.#meetSought >= meetEveryMs) {
      this.#meetSought = performance.now();
      await this.#findMeet();
    }
    await this.#readRuns();
    await this.#readHistory();
  }

  /**
   * readClock asks for the server's time, beside all else, until it is known; and again after the bench was cut off.
   */
  #readClock(): void {
    if (this.#clockRead) return;
    this.#clockRead = true;
    serverClock.meetServer().catch(() => (this.#clockRead = false));
  }

  #listen(meet: string): void {
    if (meet === this.#meetID || this.#closed) return;
    this.#feed?.close();
    this.#meetID = meet;
    this.#feed = meetFeed(meet, ['meet', 'board', `bench/${this.bench}`, `speed/${this.bench}`]);
  }

  /** findMeet looks for the meet that has this bench and is not over, the one nearest to today first. */
  async #findMeet(): Promise<void> {
    const { meets } = await ask(api.GET('/api/v1/meets', soon));
    const away = (date: string) => Math.abs(Date.parse(date) - serverClock.read());
    for (const { id } of [...meets].sort((a, b) => away(a.date) - away(b.date)).slice(0, 6)) {
      const meet = await ask(api.GET('/api/v1/meets/{meet}', { params: { path: { meet: id } }, ...soon }));
      const over = meet.divisions.length > 0 && meet.divisions.every((one) => one.published > 0);
      if (!over && meet.benches.some((one) => one.id === this.bench)) return this.#listen(id);
    }
  }

  async #readRuns(): Promise<void> {
    const wanted = lastDone(this.board, this.bench)?.lane.run;
    if (!wanted || !this.#meetID || this.run(wanted)) return;
    const params = { path: { meet: this.#meetID } };
    this.#runs = (await ask(api.GET('/api/v1/meets/{meet}/runs', { params, ...soon }))).runs;
  }

  async #readHistory(): Promise<void> {
    const newest = this.practiced;
    if (!newest?.car || this.#ofCar?.newest === newest.id) return;
    const params = { query: { car: newest.car, limit: 100 } };
    const { runs } = await ask(api.GET('/api/v1/practice', { params, ...soon }));
    this.#ofCar = { newest: newest.id, runs };
  }
}
