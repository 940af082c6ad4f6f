import { outside } from '$lib/ahead/root';
import { SvelteMap } from 'svelte/reactivity';
import { Connection, type Outside } from './connection';
import { readFrame, type Frame, type Topic, type TopicData } from './topics';

const browser: Outside = {
  open: (url) => new WebSocket(url),
  now: () => Date.now(),
  random: () => Math.random(),
  after: (ms, then) => setTimeout(then, ms),
  cancel: (timer) => clearTimeout(timer as ReturnType<typeof setTimeout>),
};

/** State of a feed. */
export type FeedState = 'connecting' | 'on' | 'off';

/**
 * Feed holds the newest frame of each topic it listens to, reactive: read
 * `feed.latest('board')` in a component and it follows. While it is off, the last
 * frames stay and `cutOffSince` says from when they are.
 *
 *     const feed = meetFeed('spring', ['board', 'meet', 'speed']);
 *     $effect(() => () => feed.close());
 */
export class Feed {
  state = $state<FeedState>('connecting');
  /** When the server was last heard of, while the feed is off. */
  cutOffSince = $state.raw<Date>();
  /** Whether it has been on at all, and so has something to show. */
  everOn = $state(false);
  readonly #frames = new SvelteMap<Topic, Frame>();
  readonly #path: string;
  readonly #outside: Outside;
  #topics: readonly Topic[];
  #connection: Connection;
  /** When the server was last heard of, over whichever connection; before that, when the page was opened. */
  #heard: number;

  constructor(path: string, topics: readonly Topic[], outside: Outside = browser) {
    this.#path = path;
    this.#topics = topics;
    this.#outside = outside;
    this.#heard = outside.now();
    this.#connection = this.#connect();
    globalThis.addEventListener?.('online', this.#online);
  }

  /** latest is the newest frame of a topic; undefined until the first came. */
  latest<T extends Topic>(topic: T): TopicData<T> | undefined {
    return this.#frames.get(topic)?.data as TopicData<T> | undefined;
  }

  /** speeds is the newest telemetry of every bench that sent some, for listeners of `speed`. */
  get speeds(): TopicData<`speed/${string}`>[] {
    return [...this.#frames]
      .filter(([topic]) => topic.startsWith('speed/'))
      .map(([, frame]) => frame.data as TopicData<`speed/${string}`>);
  }

  /** listen changes the topics; what is known of those that stay remains. */
  listen(topics: readonly Topic[]): void {
    if ([...topics].sort().join() === [...this.#topics].sort().join()) return;
    this.#topics = topics;
    this.#connection.close();
    this.#connection = this.#connect();
  }

  close(): void {
    globalThis.removeEventListener?.('online', this.#online);
    this.#connection.close();
  }

  #online = () => this.#connection.hurry();

  #connect(): Connection {
    const url = new URL(outside(this.#path), location.href);
    url.protocol = url.protocol.replace('http', 'ws');
    url.searchParams.set('topics', this.#topics.join(','));
    return new Connection(
      url.href,
      {
        message: (text) => {
          this.#heard = this.#outside.now();
          const frame = readFrame(text);
          // Of several servers one may be behind the other.
          if (frame && (frame.seq ?? 0) >= (this.#frames.get(frame.topic)?.seq ?? 0))
            this.#frames.set(frame.topic, frame);
        },
        on: () => {
          this.#heard = this.#outside.now();
          this.state = 'on';
          this.everOn = true;
          this.cutOffSince = undefined;
        },
        off: () => {
          this.state = 'off';
          this.cutOffSince ??= new Date(this.#heard);
        },
      },
      this.#outside,
    );
  }
}

/** meetFeed listens to a meet. */
export const meetFeed = (meet: string, topics: readonly Topic[]) =>
  new Feed(`/api/v1/meets/${encodeURIComponent(meet)}/live`, topics);

/** practiceFeed listens to the practice board: topics `practice` and `speed`. */
export const practiceFeed = (topics: readonly Topic[] = ['practice', 'speed']) =>
  new Feed('/api/v1/practice/live', topics);
