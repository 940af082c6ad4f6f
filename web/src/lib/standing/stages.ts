import type { Schema } from '$lib/api';
import { standingTexts } from '$lib/i18n/standing';
import { roundName } from '$lib/names';

type Line = Schema['Standing'];
type Stage = Schema['StandingStage'];
type Division = Schema['Division'];
type Table = Pick<Schema['Standings'], 'standings' | 'rounds'>;

/** Column is a round of a stage, or what the stage ranks by where that is a number. */
export interface Column {
  key: string;
  name: string;
  /** Undefined for what the stage ranks by. */
  round: number | undefined;
}

/** StageColumns are those of one stage, under its name. */
export interface StageColumns {
  stage: number;
  kind: Schema['StageBody']['kind'] | undefined;
  columns: Column[];
}

/** inStage is what an entry did in a stage; undefined where it was not in it. */
export const inStage = (line: Line, stage: number): Line | Stage | undefined =>
  line.stage === stage ? line : line.earlier?.find((of) => of.stage === stage);

/**
 * columnsOf a table, in the order of the day: each stage apart, its rounds by their own names. What a stage ranks by
 * is a column of its own where several stages stand side by side, for the result of a line is that of its last.
 * `division` is the one whose programme is raced.
 */
export function columnsOf(table: Table, division: Division | undefined): StageColumns[] {
  const raced = new Map<number, Set<number>>();
  for (const line of table.standings)
    for (const of of [line, ...(line.earlier ?? [])]) {
      const rounds = raced.get(of.stage) ?? new Set();
      for (const run of of.runs) rounds.add(run.round);
      raced.set(of.stage, rounds);
    }
  const stages = [...raced].filter(([, rounds]) => rounds.size > 0).sort(([a], [b]) => a - b);
  return stages.map(([stage, rounds]) => {
    const plan = division?.stages[stage - 1];
    const name = (round: number) => {
      const where = table.rounds?.find((r) => r.stage === stage && r.round === round);
      return where?.rounds_left ? roundName(division, stage, round, undefined, where) : standingTexts.race(round);
    };
    const columns: Column[] = [...rounds]
      .sort((a, b) => a - b)
      .map((round) => ({ key: `${stage}.${round}`, name: name(round), round }));
    const counts = countsOf(table, stage, plan?.rule);
    if (stages.length > 1 && counts) columns.push({ key: `${stage}.counts`, name: counts, round: undefined });
    return { stage, kind: plan?.kind, columns };
  });
}

/** countsOf a stage is the head of what it ranks by, where that is a distance or points. */
function countsOf(table: Table, stage: number, rule: Schema['StageBody']['rule']): string | undefined {
  const of = table.standings.map((line) => inStage(line, stage));
  if (of.some((o) => o?.points !== undefined)) return standingTexts.counts.points;
  if (of.some((o) => o?.distance_m !== undefined)) return standingTexts.counts[rule ?? 'best'];
  return undefined;
}
