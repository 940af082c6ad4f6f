import type { Schema } from '$lib/api';

type Run = Schema['ReferenceSlot'];

/** Slot is what runs at one time in a reference check. */
export interface Slot {
  number: number;
  /** now is the first slot with a run left to make. */
  state: 'done' | 'now' | 'to come';
  runs: Run[];
}

/** slotsOf puts the runs of a plan together by their slots. */
export function slotsOf(runs: readonly Run[]): Slot[] {
  const slots: Slot[] = [];
  for (const run of runs) {
    const slot = slots.find((s) => s.number === run.slot);
    if (slot) slot.runs.push(run);
    else slots.push({ number: run.slot, state: 'to come', runs: [run] });
  }
  slots.sort((a, b) => a.number - b.number);
  let first = true;
  for (const slot of slots) {
    if (slot.runs.every((r) => r.run !== undefined)) slot.state = 'done';
    else if (first) {
      slot.state = 'now';
      first = false;
    }
  }
  return slots;
}
