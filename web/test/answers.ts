/** Answers as the server gives them to an order: whole, and naming it. Written from api/openapi.yaml. */
export const receipt = (
  order: string,
  more: Record<string, unknown> = {},
  headers: Record<string, string> = {},
): Response =>
  new Response(JSON.stringify({ seq: 12, head: 'ab', events: ['BenchReady'], order, ...more }), {
    status: 200,
    headers: { 'Content-Type': 'application/json', 'Idempotency-Key': order, ...headers },
  });

export const problem = (order: string | null, status: number, code: string): Response =>
  new Response(JSON.stringify({ type: 'about:blank', title: '', status, code, detail: `No: ${code}.` }), {
    status,
    headers: { 'Content-Type': 'application/problem+json', ...(order !== null && { 'Idempotency-Key': order }) },
  });

/** Answers of something in between, and of the server to somebody else. */
export const page = (status: number, text = '<!doctype html><title>Welcome to the Wi-Fi</title>'): Response =>
  new Response(text, { status, headers: { 'Content-Type': 'text/html; charset=utf-8' } });

/** An answer whose body breaks off after some bytes: `how` says whether the network tells. */
export async function cut(answer: Response, bytes: number, how: 'told' | 'silent' | 'hangs'): Promise<Response> {
  const whole = new Uint8Array(await answer.arrayBuffer());
  const body = new ReadableStream({
    start(to) {
      to.enqueue(whole.slice(0, Math.min(bytes, whole.length - 1)));
      if (how === 'told') to.error(new TypeError('network error'));
      if (how === 'silent') to.close();
    },
  });
  return new Response(body, { status: answer.status, headers: answer.headers });
}
