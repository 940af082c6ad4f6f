import { f, t } from '$lib/i18n';
import { settles } from './receipt';
import type { components } from './schema.gen';
import { inWords } from './worded';

type Body = components['schemas']['Problem'];

/**
 * Problem is a refusal: the server was reached and did not do it. Nothing was
 * changed. `message` is the sentence to show: it says what to do.
 */
export class Problem extends Error {
  override readonly name = 'Problem';
  readonly code: string;
  readonly status: number;
  readonly args: Record<string, string>;
  /** Of a save that rests on an older state: what is there now. */
  readonly current: Body['current'];
  /** The field of the order that it is about, by its name there. */
  readonly field: string | undefined;

  constructor(body: Body) {
    const args = body.args ?? {};
    super(inWords({ code: body.code, says: body.detail, args, ...(body.names && { names: body.names }) }));
    this.code = body.code;
    this.status = body.status;
    this.args = args;
    this.current = body.current;
    this.field = body.field;
  }
}

/**
 * Unreachable means that no answer of the server's came, after all tries: none at
 * all, half of one, or one of something else in between ("strange"). Whether the
 * server got the request is not known; sent again under the same key it does no harm.
 */
export class Unreachable extends Error {
  override readonly name = 'Unreachable';

  constructor(readonly why: 'silent' | 'strange' = 'silent') {
    super(why === 'strange' ? t.api.strange : t.api.unreachable);
  }
}

/**
 * AlreadyDone means that the thing was done when it was asked for the first time, a while ago, though no answer came
 * then.
 */
export class AlreadyDone extends Error {
  override readonly name = 'AlreadyDone';

  constructor(readonly since: Date) {
    super(t.api.alreadyDone(f.timeToSecond(since)));
  }
}

/** outcomeKnown says whether what was thrown tells that an order was not carried out. */
export const outcomeKnown = (thrown: unknown): boolean =>
  thrown instanceof AlreadyDone || (thrown instanceof Problem && settles(thrown.status));

/** asProblem makes the error to throw from whatever an error answer carried. */
export function asProblem(body: unknown, status: number): Problem {
  if (typeof body === 'object' && body !== null && 'code' in body && 'detail' in body) {
    return new Problem({ ...(body as Body), status });
  }
  return new Problem({ type: 'about:blank', title: '', status, code: 'unknown', detail: t.api.unknown(status) });
}

/** sentence is what to show a person for anything that was thrown. */
export function sentence(thrown: unknown): string {
  return thrown instanceof Problem || thrown instanceof Unreachable || thrown instanceof AlreadyDone
    ? thrown.message
    : t.api.broken;
}
