import { api, ask, type Schema } from '$lib/api';

type Reason = Schema['Reason'];

/** on says which edition a save rests on. */
export const on = (edition: string | undefined) => (edition === undefined ? {} : { query: { edition } });

/**
 * ordersOf are the orders that change a meet, each with the key that makes it safe to
 * send again. They give the receipt or throw what lib/api throws.
 */
export function ordersOf(meet: string) {
  const ofMeet = (key: string) => ({ path: { meet }, header: { 'Idempotency-Key': key } });
  const ofHeat = (key: string, heat: string) => ({ path: { meet, heat }, header: { 'Idempotency-Key': key } });
  const ofDivision = (key: string, division: string) => ({
    path: { meet, division },
    header: { 'Idempotency-Key': key },
  });
  const ofEntry = (key: string, entry: string) => ({ path: { meet, entry }, header: { 'Idempotency-Key': key } });
  const ofPack = (key: string, pack: string) => ({ path: { meet, pack }, header: { 'Idempotency-Key': key } });
  const ofBench = (key: string, bench: string) => ({ path: { meet, bench }, header: { 'Idempotency-Key': key } });
  return {
    pause: (key: string, reason: Reason) =>
      ask(api.POST('/api/v1/meets/{meet}/pause', { params: ofMeet(key), body: { reason } })),
    resume: (key: string, body: Schema['ResumeBody']) =>
      ask(api.POST('/api/v1/meets/{meet}/resume', { params: ofMeet(key), body })),
    tellTimes: (key: string, body: Schema['TellTimes'] = {}) =>
      ask(api.POST('/api/v1/meets/{meet}/day-plan/tell', { params: ofMeet(key), body })),
    countAdults: (key: string, adults: number) =>
      ask(api.POST('/api/v1/meets/{meet}/day-plan/adults', { params: ofMeet(key), body: { adults } })),
    chooseCuts: (key: string, cuts: Schema['CutRef'][]) =>
      ask(api.PUT('/api/v1/meets/{meet}/day-plan/cuts', { params: ofMeet(key), body: { cuts } })),
    orderHeat: (key: string, heat: string, body: Schema['OrderHeat']) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/order', { params: ofHeat(key, heat), body })),
    orderHeats: (key: string, order: string[]) =>
      ask(api.POST('/api/v1/meets/{meet}/day-plan/order', { params: ofMeet(key), body: { order } })),
    putAway: (key: string, body: Schema['PutAwayBody']) =>
      ask(api.POST('/api/v1/meets/{meet}/put-away', { params: ofMeet(key), body })),
    bringBack: (key: string, body: Schema['PutAwayBody']) =>
      ask(api.POST('/api/v1/meets/{meet}/bring-back', { params: ofMeet(key), body })),
    plan: (key: string, body: Schema['Plan'], edition?: string) =>
      ask(api.PUT('/api/v1/meets/{meet}/plan', { params: { ...ofMeet(key), ...on(edition) }, body })),
    rules: (key: string, body: Schema['Rules'], edition?: string) =>
      ask(api.PUT('/api/v1/meets/{meet}/rules', { params: { ...ofMeet(key), ...on(edition) }, body })),

    addBench: (key: string, bench: string) =>
      ask(api.PUT('/api/v1/meets/{meet}/benches/{bench}', { params: ofBench(key, bench) })),
    measureAgain: (key: string, bench: string, reason: Reason) =>
      ask(
        api.POST('/api/v1/meets/{meet}/benches/{bench}/measure-again', {
          params: ofBench(key, bench),
          body: { reason },
        }),
      ),
    service: (key: string, bench: string, body: Schema['BenchService']) =>
      ask(api.POST('/api/v1/meets/{meet}/benches/{bench}/service', { params: ofBench(key, bench), body })),
    official: (key: string, bench: string, body: Schema['WantOfficial']) =>
      ask(api.POST('/api/v1/meets/{meet}/benches/{bench}/official', { params: ofBench(key, bench), body })),

    division: (key: string, division: string, body: Schema['DivisionBody'], edition?: string) =>
      ask(
        api.PUT('/api/v1/meets/{meet}/divisions/{division}', {
          params: { ...ofDivision(key, division), ...on(edition) },
          body,
        }),
      ),
    closeEntries: (key: string, division: string, closed: boolean, sure = false) =>
      ask(
        api.POST('/api/v1/meets/{meet}/divisions/{division}/entries-closed', {
          params: { ...ofDivision(key, division), query: sure ? { sure } : {} },
          body: { closed },
        }),
      ),
    draw: (key: string, division: string, sure = false) =>
      ask(
        api.POST('/api/v1/meets/{meet}/divisions/{division}/draw', {
          params: { ...ofDivision(key, division), query: sure ? { sure } : {} },
        }),
      ),
    letDrawStand: (key: string, division: string, reason: Reason) =>
      ask(
        api.POST('/api/v1/meets/{meet}/divisions/{division}/let-draw-stand', {
          params: ofDivision(key, division),
          body: { reason },
        }),
      ),
    drawAgain: (key: string, division: string, reason: Reason, seeds?: Schema['SeedOrderBody']) =>
      ask(
        api.POST('/api/v1/meets/{meet}/divisions/{division}/draw-again', {
          params: ofDivision(key, division),
          body: { reason, ...(seeds && { seeds }) },
        }),
      ),
    merge: (key: string, division: string, from: string[]) =>
      ask(
        api.POST('/api/v1/meets/{meet}/divisions/{division}/merge', {
          params: ofDivision(key, division),
          body: { from },
        }),
      ),
    split: (key: string, division: string) =>
      ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/split', { params: ofDivision(key, division) })),
    seed: (key: string, division: string, body: Schema['SeedOrderBody']) =>
      ask(api.PUT('/api/v1/meets/{meet}/divisions/{division}/seed-order', { params: ofDivision(key, division), body })),
    closeRound: (key: string, division: string, round?: number, early?: Reason) =>
      ask(
        api.POST('/api/v1/meets/{meet}/divisions/{division}/close', {
          params: ofDivision(key, division),
          body: { ...(round && { round }), ...(early && { early }) },
        }),
      ),
    end: (key: string, division: string, reason: Reason) =>
      ask(
        api.POST('/api/v1/meets/{meet}/divisions/{division}/end', {
          params: ofDivision(key, division),
          body: { reason },
        }),
      ),
    publish: (key: string, division: string) =>
      ask(api.POST('/api/v1/meets/{meet}/divisions/{division}/publish', { params: ofDivision(key, division) })),

    takeEntry: (key: string, body: Schema['TakeEntry']) =>
      ask(api.POST('/api/v1/meets/{meet}/entries', { params: ofMeet(key), body })),
    lookTable: (body: Schema['EntryTableBody']) =>
      ask(api.POST('/api/v1/meets/{meet}/entry-table/look', { params: { path: { meet } }, body })),
    takeTable: (key: string, body: Schema['EntryTableBody']) =>
      ask(api.POST('/api/v1/meets/{meet}/entry-table', { params: ofMeet(key), body })),
    changeEntry: (key: string, entry: string, body: Schema['ChangeEntry'], edition?: string) =>
      ask(
        api.PUT('/api/v1/meets/{meet}/entries/{entry}', { params: { ...ofEntry(key, entry), ...on(edition) }, body }),
      ),
    checkIn: (key: string, entry: string, there: boolean) =>
      ask(api.POST('/api/v1/meets/{meet}/entries/{entry}/check-in', { params: ofEntry(key, entry), body: { there } })),

    call: (key: string, heat: string, short = false, sure = false) =>
      ask(
        api.POST('/api/v1/meets/{meet}/heats/{heat}/call', {
          params: { ...ofHeat(key, heat), query: sure ? { sure } : {} },
          body: short ? { short } : {},
        }),
      ),
    callOn: (key: string, heat: string, benches: string[]) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/call', { params: ofHeat(key, heat), body: { benches } })),
    leave: (key: string, heat: string, entry: string) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/leave', { params: ofHeat(key, heat), body: { entry } })),
    callOff: (key: string, heat: string, reason: Reason) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/call-off', { params: ofHeat(key, heat), body: { reason } })),
    move: (key: string, heat: string, body: Schema['MoveLane']) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/move', { params: ofHeat(key, heat), body })),
    ready: (key: string, heat: string, body: Schema['ConfirmReady']) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/ready', { params: ofHeat(key, heat), body })),
    start: (key: string, heat: string) =>
      ask(api.POST('/api/v1/meets/{meet}/heats/{heat}/start', { params: ofHeat(key, heat) })),
    handCount: (key: string, heat: string, body: Schema['HandCount'], sure = false) =>
      ask(
        api.POST('/api/v1/meets/{meet}/heats/{heat}/hand-count', {
          params: { ...ofHeat(key, heat), query: sure ? { sure } : {} },
          body,
        }),
      ),

    inspect: (key: string, entry: string, body: Schema['InspectionBody']) =>
      ask(api.POST('/api/v1/meets/{meet}/entries/{entry}/inspection', { params: ofEntry(key, entry), body })),
    lapse: (key: string, entry: string, reason: Reason) =>
      ask(
        api.POST('/api/v1/meets/{meet}/entries/{entry}/inspection/lapse', {
          params: ofEntry(key, entry),
          body: { reason },
        }),
      ),
    checkBattery: (key: string, pack: string, body: Schema['BatteryCheckBody']) =>
      ask(api.POST('/api/v1/meets/{meet}/packs/{pack}/check', { params: ofPack(key, pack), body })),
    addPacks: (key: string, packs: string[]) =>
      ask(api.POST('/api/v1/meets/{meet}/packs', { params: ofMeet(key), body: { packs } })),
    issuePack: (key: string, pack: string, entry: string) =>
      ask(api.POST('/api/v1/meets/{meet}/packs/{pack}/issue', { params: ofPack(key, pack), body: { entry } })),
    returnPack: (key: string, pack: string, hurt: boolean) =>
      ask(api.POST('/api/v1/meets/{meet}/packs/{pack}/return', { params: ofPack(key, pack), body: { hurt } })),
    putPackBack: (key: string, pack: string, reason: Reason) =>
      ask(api.POST('/api/v1/meets/{meet}/packs/{pack}/put-back', { params: ofPack(key, pack), body: { reason } })),
    dealPacks: (key: string, body: Schema['DealPacks']) =>
      ask(api.POST('/api/v1/meets/{meet}/packs/deal', { params: ofMeet(key), body })),

    rule: (key: string, body: Schema['RulingBody'], sure = false) =>
      ask(api.POST('/api/v1/meets/{meet}/rulings', { params: { ...ofMeet(key), query: sure ? { sure } : {} }, body })),
    protest: (key: string, body: Schema['LodgeProtest']) =>
      ask(api.POST('/api/v1/meets/{meet}/protests', { params: ofMeet(key), body })),
    ruleProtest: (key: string, protest: string, body: Schema['RuleProtest']) =>
      ask(
        api.POST('/api/v1/meets/{meet}/protests/{protest}/ruling', {
          params: { path: { meet, protest }, header: { 'Idempotency-Key': key } },
          body,
        }),
      ),
  };
}
