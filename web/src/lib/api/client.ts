import createClient from 'openapi-fetch';
import { uuidv7 } from './ids';
import { asProblem } from './problem';
import { retrying } from './retry';
import type { components, paths } from './schema.gen';

/** Schema is every body of the contract by its name: Schema['Heat']. */
export type Schema = components['schemas'];

/** The contract's operations with the Idempotency-Key made optional: `api` makes one. */
type Keyed<Operation> = Operation extends { parameters: infer P }
  ? Omit<Operation, 'parameters'> & { parameters: Omit<P, 'header'> & { header?: { 'Idempotency-Key'?: string } } }
  : Operation;
type KeyedPaths = { [Path in keyof paths]: { [Method in keyof paths[Path]]: Keyed<paths[Path][Method]> } };

const key = 'Idempotency-Key';
const orders = new Set(['POST', 'PUT', 'DELETE']);

/**
 * api calls the server: `api.GET('/api/v1/meets/{meet}', { params: { path: { meet } } })`.
 * Every order gets an Idempotency-Key unless the caller gives one in
 * params.header, and network errors are tried again under the same key. Wrap a
 * call in `ask` to get its data or a sentence.
 */
export const api = createClient<KeyedPaths>({
  baseUrl: globalThis.location?.origin ?? '',
  fetch: retrying((request, init) => fetch(request, init)),
});

api.use({
  onRequest({ request }) {
    if (orders.has(request.method) && !request.headers.has(key)) request.headers.set(key, uuidv7());
  },
});

type Answer<T> = { data?: T; error?: unknown; response: Response };

/** ask gives the data of an answer, or throws a Problem or Unreachable; see problem.ts. */
export async function ask<T>(answer: Promise<Answer<T>>): Promise<T> {
  const { data, error, response } = await answer;
  if (!response.ok) throw asProblem(error, response.status);
  return data as T;
}
