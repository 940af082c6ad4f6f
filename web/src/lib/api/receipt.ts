/** The header in which an order carries its id, and in which every answer of the server's own names it. */
export const orderKey = 'Idempotency-Key';
/** Takes an order back; only for those that are answered by a receipt. */
export const withdrawHeader = 'Order-Withdraw';
/** On a receipt that is remembered from an earlier try. */
export const againHeader = 'Order-Again';

const changing = new Set(['POST', 'PUT', 'DELETE']);
/** Orders that are answered by something else than a receipt of the log. */
const noReceipt = /\/(account|session|sessions\/[^/]+\/end|tokens|set-right|revoke|seed-preview|look|chunks)$/;

export const isOrder = (request: Request): boolean => changing.has(request.method);
export const hasReceipt = (request: Request): boolean =>
  isOrder(request) && !noReceipt.test(new URL(request.url).pathname);

/**
 * isOurs says whether an answer is the server's own and is whole: a log-in page of
 * a Wi-Fi, an error page of a proxy, the answer to another order and half an
 * answer are not. Only such an answer says anything about an order.
 */
export function isOurs(request: Request, answer: Response, content: Uint8Array | null): boolean {
  if (isOrder(request) && answer.headers.get(orderKey) !== request.headers.get(orderKey)) return false;
  if (answer.status === 204) return isOrder(request);
  const type = (answer.headers.get('Content-Type') ?? '').split(';')[0]!.trim().toLowerCase();
  if (type === 'application/x-ndjson') return answer.ok && !isOrder(request);
  if (type !== (answer.ok ? 'application/json' : 'application/problem+json')) return false;
  const body = parsed(content);
  if (typeof body !== 'object' || body === null) return false;
  if (!answer.ok)
    return (
      fits(body, { code: 'string', detail: 'string', status: 'number' }) &&
      (body as { status: number }).status === answer.status
    );
  if (!hasReceipt(request)) return true;
  const { order, events } = body as { order?: unknown; events?: unknown };
  return (
    fits(body, { seq: 'number', head: 'string' }) && Array.isArray(events) && order === request.headers.get(orderKey)
  );
}

/** parsed is what a text in JSON says; undefined where it is none. */
function parsed(content: Uint8Array | null): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(content ?? undefined));
  } catch {
    return undefined;
  }
}

const fits = (body: object, types: Record<string, string>): boolean =>
  Object.entries(types).every(([name, type]) => typeof (body as Record<string, unknown>)[name] === type);

/**
 * settles says whether an answer of the server's own tells what became of an order:
 * it was carried out, or it was turned down. A server that failed, has too much to
 * do or does not know who asks has not said it.
 */
export const settles = (status: number): boolean =>
  status < 500 && status !== 401 && status !== 408 && status !== 425 && status !== 429;
