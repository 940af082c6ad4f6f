import { asProblem } from '$lib/api/problem';
import type { Kept, Refused } from './order';

/**
 * Outcome is what became of a try: done; refused for good; later, because no
 * answer came or the server could not say; or it needs a sign-in first.
 */
export type Outcome = 'done' | 'later' | 'sign-in' | Refused;

/** A phone at the edge of a Wi-Fi may wait for ever; the next try is free. */
const answerWithinMs = 10_000;

/** send tries once. It does not throw. */
export async function send(order: Kept, post: typeof fetch = (path, init) => fetch(path, init)): Promise<Outcome> {
  const cut = new AbortController();
  const timer = setTimeout(() => cut.abort(), answerWithinMs);
  try {
    const answer = await post(order.path, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json', 'Idempotency-Key': order.key },
      body: order.body,
      signal: cut.signal,
    });
    if (answer.ok) return 'done';
    if (answer.status === 401) return 'sign-in';
    if (answer.status >= 500 || answer.status === 429) return 'later';
    const { code, message } = asProblem(await answer.json().catch(() => undefined), answer.status);
    return { code, says: message };
  } catch {
    return 'later';
  } finally {
    clearTimeout(timer);
  }
}
