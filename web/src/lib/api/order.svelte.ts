import { uuidv7 } from './ids';
import { outcomeKnown, Problem, sentence } from './problem';

/**
 * Order is one thing that a person can have done by pressing a button. It holds
 * what the button shows meanwhile: `busy`, and `said`, the sentence of the last
 * failure. Pressed again with the same content before its outcome is known, it
 * sends the same key, so that the thing is done once.
 *
 *     const call = new Order((key, heat: string) => ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/call',
 *       { params: { path: { meet, heat }, header: { 'Idempotency-Key': key } }, body: {} })));
 *     <Button busy={call.busy} onclick={() => call.send(heat.id)}>…
 */
export class Order<Content extends unknown[], Answer> {
  busy = $state(false);
  said = $state<string>();
  /** What the server refused last; a dialog that is asked back shows what to say to it. */
  problem = $state.raw<Problem>();
  /** The field that it was refused for, by its name in the order. */
  field = $derived(this.problem?.field);
  /** Keys of what was sent without a known outcome, by content. */
  readonly #unsettled = new Map<string, string>();
  readonly #carryOut: (key: string, ...content: Content) => Promise<Answer>;

  constructor(carryOut: (key: string, ...content: Content) => Promise<Answer>) {
    this.#carryOut = carryOut;
  }

  /** forget takes back what was said of the last failure. */
  forget(): void {
    this.said = this.problem = undefined;
  }

  /** send gives the answer, or undefined where `said` tells why there is none. */
  async send(...content: Content): Promise<Answer | undefined> {
    if (this.busy) return undefined;
    const same = JSON.stringify(content);
    const key = this.#unsettled.get(same) ?? uuidv7();
    this.#unsettled.set(same, key);
    this.busy = true;
    this.forget();
    try {
      const answer = await this.#carryOut(key, ...content);
      this.#unsettled.delete(same);
      return answer;
    } catch (thrown) {
      if (outcomeKnown(thrown)) this.#unsettled.delete(same);
      this.said = sentence(thrown);
      this.problem = thrown instanceof Problem ? thrown : undefined;
      return undefined;
    } finally {
      this.busy = false;
    }
  }
}
