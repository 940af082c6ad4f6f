import type { Schema } from '$lib/api';
import { homeOf } from '../entries/list';
import type { Moment } from './of-one-moment';

/** Certificate is what stands on the sheet of one entry. */
export interface Certificate {
  entry: string;
  number: number;
  /** As the families agreed for results; missing where the number stands for it. */
  name: string | undefined;
  /** Only of official results; equals share it. */
  place: number | undefined;
  /** How many are placed. */
  of: number;
  races: number;
  /** The longest run that counts, in m. */
  longestM: number | undefined;
}

/**
 * certificatesOf are those of a division: one for everybody who is entered in it, by place and then by number.
 * A place stands on it once the results are official, and never for who was disqualified or left.
 */
export function certificatesOf(of: Pick<Moment, 'entries' | 'standings' | 'people'>, division: string): Certificate[] {
  const table = of.standings.find((s) => s.division === division);
  const lines = new Map(table?.standings.map((line) => [line.racer.entry, line]));
  const official = (table?.published ?? 0) > 0;
  const placed = (line: Schema['Standing'] | undefined) =>
    !official || !line || line.status ? undefined : (line.band ? line.band_rank : line.rank) || undefined;
  const all = of.entries.filter((e) => homeOf(e) === division);
  const agreed = new Map(of.people.map((p) => [p.id, p.in_results ? p.display_name : '']));
  const count = all.filter((e) => placed(lines.get(e.id)) !== undefined).length;
  return all
    .map((e) => {
      const line = lines.get(e.id);
      const metres = (line?.runs ?? []).flatMap((run) => run.distance_m ?? []);
      return {
        entry: e.id,
        number: e.start_number,
        name: agreed.get(e.entrant ?? '') || undefined,
        place: placed(line),
        of: count,
        races: metres.length,
        longestM: metres.length ? Math.max(...metres) : undefined,
      };
    })
    .toSorted((a, b) => (a.place ?? Infinity) - (b.place ?? Infinity) || a.number - b.number);
}
