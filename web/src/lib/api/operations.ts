import type { Client } from 'openapi-fetch';

type Method = 'GET' | 'POST' | 'PUT' | 'DELETE';
type Values = Record<string, string | number | boolean | undefined>;

/** Call is what an operation is called with; its types come from the contract. */
interface Call {
  params?: { path?: Values; query?: Values; header?: Values };
  headers?: Record<string, string>;
  body?: unknown;
  fetch?: (request: Request) => Promise<Response>;
}

/**
 * operations makes the calls of openapi-fetch, whose types they have, from the few of
 * its means that our contract needs: plain values in path, query and head, and JSON.
 * The library itself would be a twenty-fifth of what a phone loads.
 */
export function operations<Paths extends object>(
  origin: string,
  fetch: (request: Request) => Promise<Response>,
): Pick<Client<Paths>, Method> {
  const by =
    (method: Method) =>
    async (path: string, { params = {}, headers, body, fetch: over = fetch }: Call = {}) => {
      const url = new URL(
        origin + path.replace(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(String(params.path?.[name]))),
      );
      for (const [name, value] of given(params.query)) url.searchParams.set(name, String(value));
      const head = new Headers(headers);
      for (const [name, value] of given(params.header)) head.set(name, String(value));
      if (body !== undefined) head.set('Content-Type', 'application/json');
      const response = await over(
        new Request(url, { method, headers: head, ...(body !== undefined && { body: JSON.stringify(body) }) }),
      );
      const text = await response.text();
      if (!response.ok) return { error: parsed(text), response };
      return { data: text ? (JSON.parse(text) as unknown) : undefined, response };
    };
  return { GET: by('GET'), POST: by('POST'), PUT: by('PUT'), DELETE: by('DELETE') } as unknown as Pick<
    Client<Paths>,
    Method
  >;
}

const given = (values: Values = {}) => Object.entries(values).filter(([, value]) => value !== undefined);

/** parsed is what an error says, which need not be JSON. */
function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
}
