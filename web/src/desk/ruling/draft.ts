import type { Schema } from '$lib/api';
import { needs, type Kind } from './kinds';

/** Draft is a ruling as the dialog holds it; what its kind does not need is left out when it is sent. */
export interface Draft {
  kind: Kind;
  heat: string;
  entry: string;
  other: string;
  run: string;
  counts: NonNullable<Schema['RulingBody']['counts']>;
  penalty_m: number | null;
  distance_m: number | null;
  u_distance_m: number | null;
  reason: { code: string; text: string };
}

/** reasonOf leaves an empty text out. */
export function reasonOf({ code, text }: { code: string; text: string }): Schema['Reason'] {
  const said = text.trim();
  return said ? { code, text: said } : { code };
}

/** bodyOf is the order with just the fields that its kind needs. */
export function bodyOf(draft: Draft): Schema['RulingBody'] {
  const body: Schema['RulingBody'] = { kind: draft.kind, reason: reasonOf(draft.reason) };
  for (const field of needs[draft.kind]) Object.assign(body, { [field]: draft[field] });
  return body;
}
