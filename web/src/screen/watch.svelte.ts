import { insist } from '$lib/again';
import { api, ask, Problem, type Schema } from '$lib/api';
import { meetFeed, type Feed, type Topic } from '$lib/live';
import { Reading } from '$lib/reading.svelte';
import { untrack } from 'svelte';
import { newest } from './race';

/**
 * MeetWatch follows one meet for one page: its feed, and the official heats of the
 * day, which the call board does not carry. Call `start` in an $effect.
 */
export class MeetWatch {
  readonly feed: Feed;
  /** True once the server said that there is no such meet. */
  missing = $state(false);
  /** The meet and its call board as they were when the page was opened: there before the feed is. */
  #first = $state.raw<{ meet?: Schema['Meet']; board?: Schema['Board'] }>({});
  #reading: Promise<void> | undefined;
  readonly #all = new Reading(
    async () => (await ask(api.GET('/api/v1/meets/{meet}/heats', { params: { path: { meet: this.id } } }))).heats,
  );
  /** The posted heats when official ones were last read; undefined while they have to be read. */
  #postedIDs: string | undefined;

  constructor(
    readonly id: string,
    readonly topics: (meet: Schema['Meet'] | undefined) => Topic[],
  ) {
    this.feed = meetFeed(id, topics(undefined));
  }

  get meet(): Schema['Meet'] | undefined {
    return this.feed.latest('meet') ?? this.#first.meet;
  }

  get board(): Schema['Board'] | undefined {
    return this.feed.latest('board') ?? this.#first.board;
  }

  /** results are the posted heats of the day, newest first. */
  get results(): Schema['Heat'][] {
    return newest(this.board?.posted ?? [], this.#all.value ?? []);
  }

  division(id: string): Schema['Division'] | undefined {
    return this.meet?.divisions.find((d) => d.id === id);
  }

  /** follow takes up topics that the meet turned out to have, and heats that became official. */
  follow(): void {
    if (this.meet) this.feed.listen(this.topics(this.meet));
    const ids = this.board?.posted.map((h) => h.id).join() ?? '';
    if (this.board && ids !== this.#postedIDs) {
      this.#postedIDs = ids;
      void this.#readHeats();
    }
  }

  /** read asks what there is, and whether the meet is there at all, which a feed cannot tell from a cut. */
  read(): Promise<void> {
    return (this.#reading ??= this.#read());
  }

  /**
   * start reads until the server has answered, and again whenever the feed breaks; the function that it returns ends
   * all.
   */
  start(): () => void {
    const stop = insist(async () => {
      await this.read().catch((thrown: unknown) => {
        this.#reading = undefined;
        throw thrown;
      });
      return true;
    });
    // A meet that was put away ends the feed as a cut does: only the answer tells them apart.
    const leave = $effect.root(() => {
      $effect(() => (this.feed.cutOffSince ? untrack(() => this.#askWhetherThere()) : undefined));
    });
    return () => {
      stop();
      leave();
      this.feed.close();
    };
  }

  #askWhetherThere(): () => void {
    return insist(async () => {
      await this.#read();
      return true;
    });
  }

  async #read(): Promise<void> {
    const params = { path: { meet: this.id } };
    try {
      const [meet, board] = await Promise.all([
        ask(api.GET('/api/v1/meets/{meet}', { params })),
        this.topics(undefined).includes('board') ? ask(api.GET('/api/v1/meets/{meet}/board', { params })) : undefined,
      ]);
      this.#first = { meet, ...(board && { board }) };
    } catch (thrown) {
      if (!(thrown instanceof Problem) || thrown.status >= 500) throw thrown;
      this.missing = true;
      this.feed.close();
    }
  }

  async #readHeats(): Promise<void> {
    await this.#all.refresh();
    if (this.#all.said !== undefined) this.#postedIDs = undefined; // with the next frame it is tried again
  }
}
