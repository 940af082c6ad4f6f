import { uuidv7 } from './ids';
import { AlreadyDone, Unreachable } from './problem';
import { againHeader, hasReceipt, isOrder, orderKey, settles, withdrawHeader } from './receipt';
import { unsettled } from './unsettled';

type Send = (request: Request) => Promise<Response>;

/** After so long a second press may well mean a second thing, so its answer has to say what it is about. */
const longAgoMs = 60_000;

/**
 * keyed gives every order its key: one until its outcome is known, whatever came in
 * between. Where an order is turned down after a try of which nobody knows, it is
 * taken back, so that the no is true though that try may still be on its way. It
 * throws AlreadyDone for a receipt that is about an earlier press long ago.
 */
export const keyed =
  (send: Send): Send =>
  async (request) => {
    if (!isOrder(request)) return send(request);
    const content = `${request.method} ${new URL(request.url).pathname}\n${await request.clone().text()}`;
    const began = Date.now();
    const order = unsettled.open(content, request.headers.get(orderKey) ?? uuidv7());
    const as = (headers: Record<string, string>) => {
      const copy = new Request(request.clone());
      for (const [name, value] of Object.entries(headers)) copy.headers.set(name, value);
      return copy;
    };
    let answer = await send(as({ [orderKey]: order.key }));
    if (!settles(answer.status)) return answer;
    const { tried } = unsettled.open(content, order.key);
    if (!answer.ok && tried && hasReceipt(request))
      answer = await takeBack(answer, () => send(as({ [orderKey]: order.key, [withdrawHeader]: 'true' })));
    unsettled.settle(content);
    // Taken back after the last press, whose answer was lost: this press is a new one.
    if (await wasWithdrawn(answer)) return keyed(send)(as({ [orderKey]: uuidv7() }));
    if (answer.headers.get(againHeader) === 'true' && began - order.since > longAgoMs)
      throw new AlreadyDone(new Date(order.since));
    return answer;
  };

/**
 * noting remembers each single try of an order that ended without the server saying what became of it; `keyed` needs
 * to know.
 */
export const noting =
  (send: typeof fetch): typeof fetch =>
  async (asked, init) => {
    const key = asked instanceof Request ? asked.headers.get(orderKey) : null;
    try {
      const answer = await send(asked, init);
      if (answer.status >= 500) unsettled.noteTry(key);
      return answer;
    } catch (failure) {
      unsettled.noteTry(key);
      throw failure;
    }
  };

const wasWithdrawn = async (answer: Response): Promise<boolean> =>
  answer.status === 409 && ((await answer.clone().json()) as { code?: unknown }).code === 'order-withdrawn';

/** takeBack gives the receipt of an order that was carried out all the same, else the no. */
async function takeBack(no: Response, withdraw: () => Promise<Response>): Promise<Response> {
  const answer = await withdraw();
  if (!settles(answer.status)) throw new Unreachable();
  return answer.ok ? answer : no;
}
