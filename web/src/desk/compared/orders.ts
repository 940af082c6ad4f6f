import { api, ask, type Schema } from '$lib/api';

/** ordersOf are the orders of the page of the benches compared; see day/orders.ts. */
export function ordersOf(meet: string) {
  const m = (key: string) => ({ path: { meet }, header: { 'Idempotency-Key': key } });
  return {
    adopt: (key: string, offer: string, reason: Schema['Reason']) =>
      ask(api.POST('/api/v1/meets/{meet}/factors', { params: m(key), body: { offer, reason } })),
    withdraw: (key: string, reason: Schema['Reason']) =>
      ask(api.POST('/api/v1/meets/{meet}/factors/withdraw', { params: m(key), body: { reason } })),
    begin: (key: string, body: Schema['BeginReferenceCheck']) =>
      ask(api.POST('/api/v1/meets/{meet}/reference-checks', { params: m(key), body })),
    drop: (key: string, run: string) =>
      ask(
        api.POST('/api/v1/meets/{meet}/reference-runs/{run}/drop', {
          params: { path: { meet, run }, header: { 'Idempotency-Key': key } },
        }),
      ),
    car: (key: string, number: number, known: Schema['Car'] | undefined) =>
      ask(
        api.PUT('/api/v1/cars/{car}', {
          params: { path: { car: known?.id ?? `car-${number}` }, header: { 'Idempotency-Key': key } },
          body: { number, reference: true, ...(known?.wheel_mm !== undefined && { wheel_mm: known.wheel_mm }) },
        }),
      ),
  };
}
