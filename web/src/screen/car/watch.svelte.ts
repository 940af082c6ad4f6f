import { insist } from '$lib/again';
import { api, ask, Problem, type Schema } from '$lib/api';
import { MeetWatch } from '../watch.svelte';

/** CarWatch follows the day of one car: its entry, heats and runs come over the feed when one of them changes. */
export class CarWatch extends MeetWatch {
  #first = $state.raw<Schema['CarDay']>();
  #noSuch = $state(false);

  constructor(
    meet: string,
    readonly entry: string,
  ) {
    super(meet, () => ['meet', `car/${entry}`, 'day-plan']);
  }

  get day(): Schema['CarDay'] | undefined {
    return this.feed.latest(`car/${this.entry}`) ?? this.#first;
  }

  /** Whether the meet knows no such car. */
  get unknown(): boolean {
    return this.#noSuch && this.day === undefined;
  }

  override start(): () => void {
    const stopReading = insist(async () => {
      await this.#readFirst();
      return true;
    });
    const stop = super.start();
    return () => {
      stopReading();
      stop();
    };
  }

  /** What there is when the page is opened comes before the feed is up. */
  async #readFirst(): Promise<void> {
    const path = { meet: this.id, entry: this.entry };
    try {
      this.#first = await ask(api.GET('/api/v1/meets/{meet}/entries/{entry}/day', { params: { path } }));
    } catch (thrown) {
      if (!(thrown instanceof Problem) || thrown.status >= 500) throw thrown;
      this.#noSuch = true;
    }
  }
}
