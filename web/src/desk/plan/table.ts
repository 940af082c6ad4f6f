import type { Schema } from '$lib/api';

type Window = Schema['BatteryWindow'];
type Item = Schema['CheckItem'];
type Class = Pick<Schema['CarClass'], 'battery' | 'checklist'>;
type Span = Schema['Span'];

/** WindowDraft is a battery window as the form holds it; null is an empty field, times are in minutes. */
export interface WindowDraft {
  chemistry: Window['chemistry'];
  open_min: number | null;
  open_max: number | null;
  load_min: number | null;
  load_max: number | null;
  resistance: number | null;
  warm_min: number | null;
  warm_max: number | null;
  valid_min: number | null;
  rest_min: number | null;
}

/** ItemDraft is a line of the checklist; `unit` is '' for yes or no. */
export interface ItemDraft {
  id: string;
  name: string;
  unit: NonNullable<Item['unit']> | '';
  min: number | null;
  max: number | null;
  instrument: string;
}

/** TableDraft is what a class asks for at the inspector's table; no windows ask for no battery check. */
export interface TableDraft {
  windows: WindowDraft[];
  aside_after: number | null;
  items: ItemDraft[];
}

const orNull = (value: number | undefined): number | null => value || null;

export const windowDraft = (w: Window): WindowDraft => ({
  chemistry: w.chemistry,
  open_min: w.open_v.min,
  open_max: w.open_v.max,
  load_min: w.load_v?.min ?? null,
  load_max: w.load_v?.max ?? null,
  resistance: orNull(w.resistance_max_mohm),
  warm_min: w.temperature_c?.min ?? null,
  warm_max: w.temperature_c?.max ?? null,
  valid_min: orNull((w.valid_s ?? 0) / 60),
  rest_min: orNull((w.rest_s ?? 0) / 60),
});

export const itemDraft = (item: Item): ItemDraft => ({
  id: item.id,
  name: item.name,
  unit: item.unit ?? '',
  min: orNull(item.min),
  max: orNull(item.max),
  instrument: item.instrument ?? '',
});

export const tableOf = (c: Class): TableDraft => ({
  windows: c.battery?.windows.map(windowDraft) ?? [],
  aside_after: orNull(c.battery?.aside_after),
  items: c.checklist?.map(itemDraft) ?? [],
});

/** span is asked for where one of its ends is filled in. */
const span = (min: number | null, max: number | null): Span | undefined =>
  min === null && max === null ? undefined : { min: min ?? 0, max: max ?? 0 };

const windowBody = (w: WindowDraft, cells: number): Window => {
  const [load, warm] = [span(w.load_min, w.load_max), span(w.warm_min, w.warm_max)];
  return {
    chemistry: w.chemistry,
    cells: cells || 1,
    open_v: { min: w.open_min ?? 0, max: w.open_max ?? 0 },
    ...(load && { load_v: load }),
    ...(w.resistance && { resistance_max_mohm: w.resistance }),
    ...(warm && { temperature_c: warm }),
    ...(w.valid_min && { valid_s: w.valid_min * 60 }),
    ...(w.rest_min && { rest_s: w.rest_min * 60 }),
  };
};

const itemBody = (item: ItemDraft): Item => ({
  id: item.id,
  name: item.name.trim(),
  ...(item.unit && { unit: item.unit }),
  ...(item.unit && item.min && { min: item.min }),
  ...(item.unit && item.max && { max: item.max }),
  ...(item.instrument.trim() && { instrument: item.instrument.trim() }),
});

/** tableBody is what the class of so many cells asks for. */
export const tableBody = (draft: TableDraft, cells: number): Class => ({
  ...(draft.windows.length > 0 && {
    battery: {
      windows: draft.windows.map((w) => windowBody(w, cells)),
      ...(draft.aside_after && { aside_after: draft.aside_after }),
    },
  }),
  ...(draft.items.length > 0 && { checklist: draft.items.map(itemBody) }),
});

/** freeItem is an id for a new line that no other has. */
export const freeItem = (items: readonly ItemDraft[]): string => {
  for (let n = 1; ; n++) if (!items.some((item) => item.id === `item-${n}`)) return `item-${n}`;
};
