import { uuidv7 } from './ids';
import { sentence, Unreachable } from './problem';

/**
 * Order is one thing that a person can have done by pressing a button. It holds
 * what the button shows meanwhile: `busy`, and `said`, the sentence of the last
 * failure. Pressed again after no answer came, with the same content, it sends
 * the same key, so that the thing is done once.
 *
 *     const call = new Order((key, heat: string) => ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/call',
 *       { params: { path: { meet, heat }, header: { 'Idempotency-Key': key } }, body: {} })));
 *     <Button busy={call.busy} onclick={() => call.send(heat.id)}>…
 */
export class Order<Content extends unknown[], Answer> {
  busy = $state(false);
  said = $state<string>();
  #unanswered: { key: string; content: string } | undefined;
  readonly #carryOut: (key: string, ...content: Content) => Promise<Answer>;

  constructor(carryOut: (key: string, ...content: Content) => Promise<Answer>) {
    this.#carryOut = carryOut;
  }

  /** send gives the answer, or undefined where `said` tells why there is none. */
  async send(...content: Content): Promise<Answer | undefined> {
    if (this.busy) return undefined;
    const same = JSON.stringify(content);
    const key = this.#unanswered?.content === same ? this.#unanswered.key : uuidv7();
    this.busy = true;
    this.said = undefined;
    this.#unanswered = undefined;
    try {
      return await this.#carryOut(key, ...content);
    } catch (thrown) {
      if (thrown instanceof Unreachable) this.#unanswered = { key, content: same };
      this.said = sentence(thrown);
      return undefined;
    } finally {
      this.busy = false;
    }
  }
}
