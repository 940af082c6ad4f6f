import { api, ask, type Schema } from '$lib/api';

type Reason = Schema['Reason'];

/**
 * ordersOf are the orders that change a meet, each with the key that makes it safe to
 * send again. They give the receipt or throw what lib/api throws.
 */
export function ordersOf(meet: string) {
  const m = (key: string) => ({ path: { meet }, header: { 'Idempotency-Key': key } });
  const h = (key: string, heat: string) => ({ path: { meet, heat }, header: { 'Idempotency-Key': key } });
  const d = (key: string, division: string) => ({ path: { meet, division }, header: { 'Idempotency-Key': key } });
  const e = (key: string, entry: string) => ({ path: { meet, entry }, header: { 'Idempotency-Key': key } });
  const p = (key: string, pack: string) => ({ path: { meet, pack }, header: { 'Idempotency-Key': key } });
  const b = (key: string, bench: string) => ({ path: { meet, bench }, header: { 'Idempotency-Key': key } });
  return {
    pause: (key: string, reason: Reason) => ask(api.POST('/api/v1/meets/{meet}/pause', { params: m(key), body: { reason } })),
    resume: (key: string) => ask(api.POST('/api/v1/meets/{meet}/resume', { params: m(key) })),
    plan: (key: string, body: Schema['Plan']) => ask(api.PUT('/api/v1/meets/{meet}/plan', { params: m(key), body })),
    rules: (key: string, body: Schema['Rules']) => ask(api.PUT('/api/v1/meets/{meet}/rules', { params: m(key), body })),

    addBench: (key: string, bench: string) => ask(api.PUT('/api/v1/meets/{meet}/benches/{bench}', { params: b(key, bench) })),
    measureAgain: (key: string, bench: string, reason: Reason) =>
      ask(api.POST('/api/v1/meets/{meet}/benches/{bench}/measure-again', { params: b(key, bench), body: { reason } })),
    service: (key: string, bench: string, body: Schema['BenchService']) =>
      ask(api.POST('/api/v1/meets/{meet}/benches/{bench}/service', { params: b(key, bench), body })),

    division: (key: string, division: string, body: Schema['DivisionBody']) =>
      ask(api.PUT('/api/v1/meets/{meet}/divisions/{division}', { params: d(key, division), body })),
    closeEntries: (key: string, division: string, closed: boolean) =>
      ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/entries-closed', { params: d(key, division), body: { closed } })),
    draw: (key: string, division: string) => ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/draw', { params: d(key, division) })),
    letDrawStand: (key: string, division: string, reason: Reason) =>
      ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/let-draw-stand', { params: d(key, division), body: { reason } })),
    drawAgain: (key: string, division: string, reason: Reason, seeds?: Schema['SeedOrderBody']) =>
      ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/draw-again', { params: d(key, division), body: { reason, ...(seeds && { seeds }) } })),
    merge: (key: string, division: string, from: string[]) =>
      ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/merge', { params: d(key, division), body: { from } })),
    split: (key: string, division: string) =>
      ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/split', { params: d(key, division) })),
    seed: (key: string, division: string, body: Schema['SeedOrderBody']) =>
      ask(api.PUT('/api/v1/meets/{meet}/divisions/{division}/seed-order', { params: d(key, division), body })),
    closeRound: (key: string, division: string, early?: Reason) =>
      ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/close', { params: d(key, division), body: early ? { early } : {} })),
    end: (key: string, division: string, reason: Reason) =>
      ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/end', { params: d(key, division), body: { reason } })),
    publish: (key: string, division: string) =>
      ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/publish', { params: d(key, division) })),

    takeEntry: (key: string, body: Schema['TakeEntry']) => ask(api.POST('/api/v1/meets/{meet}/entries', { params: m(key), body })),
    changeEntry: (key: string, entry: string, body: Schema['ChangeEntry']) =>
      ask(api.PUT('/api/v1/meets/{meet}/entries/{entry}', { params: e(key, entry), body })),
    checkIn: (key: string, entry: string, there: boolean) =>
      ask(api.POST('/api/v1/meets/{meet}/entries/{entry}/check-in', { params: e(key, entry), body: { there } })),

    call: (key: string, heat: string) => ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/call', { params: h(key, heat), body: {} })),
    callOff: (key: string, heat: string, reason: Reason) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/call-off', { params: h(key, heat), body: { reason } })),
    move: (key: string, heat: string, body: Schema['MoveLane']) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/move', { params: h(key, heat), body })),
    ready: (key: string, heat: string, body: Schema['ConfirmReady']) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/ready', { params: h(key, heat), body })),
    start: (key: string, heat: string) => ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/start', { params: h(key, heat) })),
    handCount: (key: string, heat: string, body: Schema['HandCount']) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/hand-count', { params: h(key, heat), body })),

    inspect: (key: string, entry: string, body: Schema['InspectionBody']) =>
      ask(api.POST('/api/v1/meets/{meet}/entries/{entry}/inspection', { params: e(key, entry), body })),
    lapse: (key: string, entry: string, reason: Reason) =>
      ask(api.POST('/api/v1/meets/{meet}/entries/{entry}/inspection/lapse', { params: e(key, entry), body: { reason } })),
    checkBattery: (key: string, pack: string, body: Schema['BatteryCheckBody']) =>
      ask(api.POST('/api/v1/meets/{meet}/packs/{pack}/check', { params: p(key, pack), body })),
    addPacks: (key: string, packs: string[]) => ask(api.POST('/api/v1/meets/{meet}/packs', { params: m(key), body: { packs } })),
    issuePack: (key: string, pack: string, entry: string) =>
      ask(api.POST('/api/v1/meets/{meet}/packs/{pack}/issue', { params: p(key, pack), body: { entry } })),
    returnPack: (key: string, pack: string, hurt: boolean) =>
      ask(api.POST('/api/v1/meets/{meet}/packs/{pack}/return', { params: p(key, pack), body: { hurt } })),
    putPackBack: (key: string, pack: string, reason: Reason) =>
      ask(api.POST('/api/v1/meets/{meet}/packs/{pack}/put-back', { params: p(key, pack), body: { reason } })),
    dealPacks: (key: string, body: Schema['DealPacks']) => ask(api.POST('/api/v1/meets/{meet}/packs/deal', { params: m(key), body })),

    rule: (key: string, body: Schema['RulingBody']) => ask(api.POST('/api/v1/meets/{meet}/rulings', { params: m(key), body })),
    protest: (key: string, body: Schema['LodgeProtest']) => ask(api.POST('/api/v1/meets/{meet}/protests', { params: m(key), body })),
    ruleProtest: (key: string, protest: string, body: Schema['RuleProtest']) =>
      ask(
        api.POST('/api/v1/meets/{meet}/protests/{protest}/ruling', {
          params: { path: { meet, protest }, header: { 'Idempotency-Key': key } },
          body,
        }),
      ),
  };
}
