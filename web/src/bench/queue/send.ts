import { outside } from '$lib/ahead/root';
import { exchange, type Limits } from '$lib/api/exchange';
import { asProblem, Unreachable } from '$lib/api/problem';
import { worded } from '$lib/api/worded';
import { orderKey, settles, withdrawHeader } from '$lib/api/receipt';
import { cameTrue } from './came-true';
import type { Kept, Refused } from './order';

/**
 * Outcome is what became of a try: done; refused for good; or it is not known, because
 * no answer came (`later`), because something else than the server answered
 * (`strange`), because the server failed at it (`failed`), or it needs a sign-in first.
 */
export type Outcome = 'done' | 'later' | 'strange' | 'failed' | 'sign-in' | Refused;

/** A phone at the edge of a Wi-Fi may wait for ever; the next try is free. */
const usual: Limits = { silence: 8_000, order: 10_000 };

const network: typeof fetch = (path, init) => fetch(path, init);

/** send tries once. It does not throw. Only an answer that names the order and is whole says anything about it. */
export async function send(
  order: Kept,
  post: typeof fetch = network,
  signal?: AbortSignal,
  limits = usual,
): Promise<Outcome> {
  const headers = {
    'Content-Type': 'application/json',
    [orderKey]: order.key,
    ...(order.ends && { [withdrawHeader]: 'true' }),
  };
  const what = { method: 'POST', headers, body: order.body };
  const path = outside(order.path);
  const asked = new Request(new URL(path, globalThis.location?.href), what);
  try {
    const answer = await exchange((_, init) => post(path, { ...what, ...init }), limits, signal)(asked);
    if (answer.ok) return 'done';
    if (answer.status === 401) return 'sign-in';
    if (!settles(answer.status)) return answer.status === 429 || answer.status === 503 ? 'later' : 'failed';
    await worded();
    const { code, message } = asProblem(await answer.json(), answer.status);
    const so = !order.ends && (await cameTrue(order, exchange(post, limits, signal)));
    return { code, says: message, ...(so && { kind: 'already' as const }) };
  } catch (failure) {
    return failure instanceof Unreachable && failure.why === 'strange' ? 'strange' : 'later';
  }
}
