import type { Schema } from '$lib/api';

/** What a pack's number may be, as an attribute: browsers read it under the v flag, where a hyphen is escaped. */
export const packPattern = '\\s*[A-Za-z0-9][A-Za-z0-9._\\-]*\\s*';

type Item = Schema['CheckItem'];

/** CheckDraft is the checklist as the form holds it: a number, or yes, no or '' for each item by its id. */
export interface CheckDraft {
  values: Record<string, number | null>;
  answers: Record<string, 'yes' | 'no' | ''>;
  wrong: boolean;
  fix_min: number | null;
  mark: string;
}

export const newCheck = (items: readonly Item[]): CheckDraft => ({
  values: Object.fromEntries(items.filter((i) => i.unit).map((i) => [i.id, null])),
  answers: Object.fromEntries(items.filter((i) => !i.unit).map((i) => [i.id, ''])),
  wrong: false,
  fix_min: 15,
  mark: '',
});

/** checkBody has what was filled in, in the order of the checklist; each value with the item's instrument. */
export const checkBody = (draft: CheckDraft, items: readonly Item[]): Schema['InspectionBody'] => ({
  values: items.flatMap((item): Schema['ItemValue'][] => {
    const [value, answer] = [draft.values[item.id], draft.answers[item.id]];
    if (item.unit)
      return value === null || value === undefined
        ? []
        : [{ item: item.id, value, ...(item.instrument && { instrument: item.instrument }) }];
    return answer ? [{ item: item.id, yes: answer === 'yes' }] : [];
  }),
  ...(draft.wrong && { wrong: true }),
  ...(draft.fix_min && { fix_s: draft.fix_min * 60 }),
  ...(draft.mark.trim() && { mark: draft.mark.trim() }),
});

/** BatteryDraft is a battery check as the form holds it; null is an empty field. */
export interface BatteryDraft {
  pack: string;
  chemistry: Schema['Chemistry'];
  cells: number | null;
  open_v: number | null;
  load_v: number | null;
  degrees: number | null;
  two: boolean;
  ma: [number | null, number | null];
  v: [number | null, number | null];
  hurt: boolean;
  instrument: string;
}

/** newBattery begins with what the class races with, and with what is known of the pack. */
export function newBattery(
  battery: Schema['ClassBattery'] | undefined,
  pack: Schema['Pack'] | undefined,
  instrument: string,
): BatteryDraft {
  const window = battery?.windows[0];
  const last = pack?.checks.at(-1);
  const kinds = battery?.windows.map((w) => w.chemistry as string) ?? [];
  const known = last && kinds.includes(last.chemistry) ? (last.chemistry as Schema['Chemistry']) : undefined;
  return {
    pack: pack?.id ?? '',
    chemistry: known ?? window?.chemistry ?? 'alkaline',
    cells: window?.cells ?? 2,
    open_v: null,
    load_v: null,
    degrees: null,
    two: false,
    ma: [5, 505],
    v: [null, null],
    hurt: false,
    instrument,
  };
}

/** batteryBody leaves everything out that was not measured, and of a hurt pack all but that it is. */
export function batteryBody(draft: BatteryDraft): Schema['BatteryCheckBody'] {
  const kind = {
    chemistry: draft.chemistry,
    cells: draft.cells ?? 1,
    ...(draft.instrument.trim() && { instrument: draft.instrument.trim() }),
  };
  if (draft.hurt) return { ...kind, open_v: 0, hurt: true };
  return {
    ...kind,
    open_v: draft.open_v ?? 0,
    ...(draft.load_v !== null && { load_v: draft.load_v }),
    ...(draft.degrees !== null && { temperature_c: draft.degrees }),
    ...(draft.two && { loads: [0, 1].map((i) => ({ ma: draft.ma[i] ?? 0, v: draft.v[i] ?? 0 })) }),
  };
}
