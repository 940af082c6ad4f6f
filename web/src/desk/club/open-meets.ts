import type { Schema } from '$lib/api';

type Listed = Schema['MeetSummary'];

/** openMeets are the meets that are still to come or held today, by the clock of this machine; the next first. */
export function openMeets(all: Listed[], now = new Date()): Listed[] {
  return all
    .filter((meet) => !meet.put_away && new Date(`${meet.date}T23:59:59`) >= now)
    .toSorted((a, b) => a.date.localeCompare(b.date));
}
