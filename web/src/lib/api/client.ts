import { ahead } from '$lib/ahead';
import { root } from '$lib/ahead/root';
import { exchange, type Limits } from './exchange';
import { keyed, noting } from './keyed';
import { operations } from './operations';
import { asProblem } from './problem';
import { retrying, type Sleep } from './retry';
import type { components, paths } from './schema.gen';
import { worded } from './worded';

/** Schema is every body of the contract by its name: Schema['Heat']. */
export type Schema = components['schemas'];

/** The contract's operations with the Idempotency-Key made optional: `api` makes one. */
type Keyed<Operation> = Operation extends { parameters: infer P }
  ? Omit<Operation, 'parameters'> & { parameters: Omit<P, 'header'> & { header?: { 'Idempotency-Key'?: string } } }
  : Operation;
type KeyedPaths = { [Path in keyof paths]: { [Method in keyof paths[Path]]: Keyed<paths[Path][Method]> } };

/** What was asked ahead is taken from there, all else comes over the network. */
const network: typeof fetch = async (request, init) =>
  (request instanceof Request ? await ahead.take(request) : undefined) ?? fetch(request, init);

let signedOut: () => void = () => {};
/** onSignedOut has a function called whenever the server no longer knows who this browser is. */
export const onSignedOut = (then: () => void): void => void (signedOut = then);

/** connect makes a client over a network; the pages have one, `api`. */
export function connect(over: typeof fetch, limits?: Limits, pause?: Sleep) {
  const send = keyed(retrying(noting(exchange(over, limits)), pause));
  return operations<KeyedPaths>((globalThis.location?.origin ?? '') + root, async (request) => {
    const answer = await send(request);
    // A key or a password that was typed may be wrong without anybody being signed out.
    if (answer.status === 401 && !request.headers.has('Authorization') && !/\/(account|session)$/.test(request.url))
      signedOut();
    return answer;
  });
}

/**
 * api calls the server: `api.GET('/api/v1/meets/{meet}', { params: { path: { meet } } })`.
 * Every order gets an Idempotency-Key unless the caller gives one in
 * params.header, and keeps it until its outcome is known: pressed again, from
 * whatever button and after a reload too, the same content carries the same key.
 * Only an answer of the server's own counts, see receipt.ts; whatever else comes is
 * tried again and ends as Unreachable. Wrap a call in `ask` to get its data or a
 * sentence.
 */
export const api = connect(network);

/** once asks a single time and gives up after `silence` ms: for questions that are asked again soon anyway. */
export const once = (silence: number) => ({ fetch: exchange(network, { silence, order: silence }) });

type Answer<T> = { data?: T; error?: unknown; response: Response };

/** ask gives the data of an answer, or throws a Problem or Unreachable; see problem.ts. */
export async function ask<T>(answer: Promise<Answer<T>>): Promise<T> {
  const { data, error, response } = await answer;
  if (!response.ok) {
    await worded();
    throw asProblem(error, response.status);
  }
  return data as T;
}
