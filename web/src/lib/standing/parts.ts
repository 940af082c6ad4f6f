import type { Schema } from '$lib/api';
import { heatTexts } from '$lib/i18n/heats';

type Line = Schema['Standing'];

/** Part is a run of lines that belong together, under a title. */
export interface Part {
  key: string;
  group: string | undefined;
  title: string | undefined;
  lines: Line[];
}

/**
 * partsOf a table: while groups are the newest stage each is ranked apart, with the places in it; else the lines by
 * the stage that made them, where there are several, under what `stageName` says of it.
 */
export function partsOf(lines: readonly Line[], stageName: (stage: number) => string): Part[] {
  const newest = Math.max(0, ...lines.map((line) => line.stage));
  const several = new Set(lines.map((line) => line.stage)).size > 1;
  const parts = new Map<string, Part>();
  for (const line of lines) {
    const group = line.stage === newest ? line.group : undefined;
    const key = group === undefined ? String(line.stage) : `${line.stage} ${group}`;
    const title = group !== undefined ? heatTexts.group(group) : several ? stageName(line.stage) : undefined;
    const part = parts.get(key) ?? { key, group, title, lines: [] };
    part.lines.push(group === undefined ? line : { ...line, rank: line.group_place ?? 0 });
    parts.set(key, part);
  }
  const of = [...parts.values()];
  const grouped = of.filter((p) => p.group !== undefined).sort((a, b) => a.group!.localeCompare(b.group!));
  for (const part of grouped) part.lines.sort((a, b) => (a.rank || Infinity) - (b.rank || Infinity));
  return [...grouped, ...of.filter((p) => p.group === undefined)];
}
