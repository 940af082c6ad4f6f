import type { Schema } from '$lib/api';
import { designBody, formsOf, heatsBody, knockoutBody, pointsBody, usualForms, type FormsDraft } from './forms';
import { tableBody, tableOf, type TableDraft } from './table';
import { incidentRules, incidentTable, type IncidentTable } from './rules';

type Division = Schema['Division'];
type StageBody = Schema['StageBody'];

/** StageDraft is a stage as the form holds it; null is an empty field. */
export interface StageDraft extends FormsDraft {
  kind: StageBody['kind'];
  rounds: number | null;
  race_s: number | null;
  lanes: number | null;
  rule: NonNullable<StageBody['rule']>;
  entries: number | null;
  third_place: boolean;
  /** Late entries of a first stage; '' is as the rules of the meet say. */
  late: NonNullable<StageBody['late']> | '';
  groups: number | null;
  cycles: number | null;
  separate_clubs: boolean;
  seeding: NonNullable<StageBody['seeding']>;
  /** How many are seeded; null is all. */
  seeds: number | null;
  /** What the form does not ask for, kept as it came. */
  kept: Pick<StageBody, 'points' | 'tie_breaks'>;
}

export interface DivisionDraft {
  name: string;
  age_from: number | null;
  age_to: number | null;
  class_name: string;
  lap_m: number | null;
  wheel_mm: number | null;
  cells: number | null;
  mass_max_g: number | null;
  release: string;
  /** What the class has otherwise than the meet. */
  incidents: IncidentTable;
  /** What the class asks for at the inspector's table. */
  table: TableDraft;
  stages: StageDraft[];
}

const usual: StageDraft = {
  kind: 'timed-rounds',
  rounds: 3,
  race_s: 60,
  lanes: 4,
  rule: 'best',
  entries: null,
  third_place: false,
  late: '',
  groups: 4,
  cycles: 1,
  ...usualForms,
  separate_clubs: false,
  seeding: 'lot',
  seeds: null,
  kept: {},
};
const timed = (): StageDraft => ({ ...usual });
const knockout = (entries: number | null): StageDraft => ({
  ...usual,
  kind: 'knockout',
  lanes: 2,
  entries,
  third_place: true,
});

/** mergeable are the divisions that could race in this one: undrawn, by themselves, with cars of the same class. */
export function mergeable(into: Division, all: readonly Division[]): Division[] {
  if (into.stage > 0 || into.ended_early || into.merged_into) return [];
  const same = JSON.stringify(into.class);
  return all.filter(
    (d) =>
      d.id !== into.id &&
      d.stage === 0 &&
      !d.ended_early &&
      !d.merged_into &&
      !d.merged?.length &&
      JSON.stringify(d.class) === same,
  );
}

/** Templates of a programme; a division may change everything in them. */
export type Template = 'both' | 'timed' | 'knockout';
export const templates: Record<Template, () => StageDraft[]> = {
  both: () => [timed(), knockout(8)],
  timed: () => [timed()],
  knockout: () => [knockout(null)],
};

/** newStage is what "add a stage" gives. */
export const newStage = (): StageDraft => knockout(4);

export const newDivision = (release: string): DivisionDraft => ({
  name: '',
  age_from: 6,
  age_to: null,
  class_name: '',
  lap_m: 1,
  wheel_mm: null,
  cells: 2,
  mass_max_g: null,
  release,
  incidents: incidentTable(undefined),
  table: tableOf({}),
  stages: templates.both(),
});

const orNull = (value: number | undefined) => value || null;

export const draftOf = (d: Division): DivisionDraft => ({
  name: d.name,
  age_from: d.age_from,
  age_to: orNull(d.age_to),
  class_name: d.class.name,
  lap_m: d.class.lap_m,
  wheel_mm: orNull(d.class.wheel_mm),
  cells: orNull(d.class.cells),
  mass_max_g: orNull(d.class.mass_max_g),
  release: d.class.release ?? '',
  incidents: incidentTable(d.class.incidents),
  table: tableOf(d.class),
  stages: d.stages.map((s) => ({
    kind: s.kind,
    rounds: orNull(s.rounds),
    race_s: s.race_s,
    lanes: s.lanes,
    rule: s.rule ?? 'best',
    entries: orNull(s.entries),
    third_place: s.third_place ?? false,
    late: s.late ?? '',
    groups: orNull(s.groups),
    cycles: s.cycles || 1,
    ...formsOf(s),
    separate_clubs: s.separate_clubs ?? false,
    seeding: s.seeding ?? 'lot',
    seeds: orNull(s.seeds),
    kept: { ...(s.points && { points: s.points }), ...(s.tie_breaks && { tie_breaks: s.tie_breaks }) },
  })),
});

/**
 * What a stage of each form has beside its kind and the length of a run; but those of many lanes, all are heats of
 * two.
 */
const ofKind: Record<StageBody['kind'], (s: StageDraft) => Omit<StageBody, 'kind' | 'race_s'>> = {
  'timed-rounds': (s) => ({ lanes: s.lanes ?? 0, rounds: s.rounds ?? 0, rule: s.rule, ...designBody(s) }),
  knockout: (s) => ({ lanes: 2, third_place: s.third_place, ...knockoutBody(s) }),
  'double-elimination': () => ({ lanes: 2 }),
  'round-robin': (s) => ({ lanes: 2, cycles: s.cycles ?? 1, ...s.kept }),
  swiss: (s) => ({ lanes: 2, rounds: s.rounds ?? 0, ...s.kept }),
  'points-rounds': (s) => ({
    lanes: s.lanes ?? 0,
    rounds: s.rounds ?? 0,
    ...designBody(s),
    ...pointsBody(s),
    ...(s.kept.tie_breaks && { tie_breaks: s.kept.tie_breaks }),
  }),
  heats: (s) => ({ lanes: s.lanes ?? 0, ...heatsBody(s) }),
  groups: (s) => ({ lanes: 2, groups: s.groups ?? 0, cycles: s.cycles ?? 1, ...s.kept }),
};

/** Forms that know seeds, and those of them that can keep clubmates apart. */
const knowsSeeds: readonly string[] = ['knockout', 'double-elimination', 'round-robin', 'swiss', 'groups', 'heats'];
const keepsApart: readonly string[] = ['knockout', 'double-elimination', 'groups'];

/** seedFields are the fields on seeds that a stage has; only a first one chooses how. */
export const seedFields = (kind: StageBody['kind'], number: number) => ({
  seeding: number === 1 && knowsSeeds.includes(kind),
  seeds: knowsSeeds.includes(kind),
  clubs: keepsApart.includes(kind),
});

function seedsOf(s: StageDraft, number: number): Pick<StageBody, 'seeding' | 'seeds' | 'separate_clubs'> {
  const has = seedFields(s.kind, number);
  return {
    ...(has.seeding && s.seeding !== 'lot' && { seeding: s.seeding }),
    ...(has.seeds && s.seeds && { seeds: s.seeds }),
    ...(has.clubs && s.separate_clubs && { separate_clubs: true }),
  };
}
/** takesLate are the forms that have room for somebody who comes late. */
export const takesLate: readonly StageBody['kind'][] = ['timed-rounds', 'points-rounds', 'swiss'];

/** bodyOf gives each stage just what its form has. */
export const bodyOf = (draft: DivisionDraft): Schema['DivisionBody'] => ({
  name: draft.name.trim(),
  age_from: draft.age_from ?? 0,
  age_to: draft.age_to ?? 0,
  class: {
    name: draft.class_name.trim(),
    lap_m: draft.lap_m ?? 0,
    ...(draft.wheel_mm && { wheel_mm: draft.wheel_mm }),
    ...(draft.cells && { cells: draft.cells }),
    ...(draft.mass_max_g && { mass_max_g: draft.mass_max_g }),
    ...(draft.release.trim() && { release: draft.release.trim() }),
    ...tableBody(draft.table, draft.cells ?? 0),
    ...(incidentRules(draft.incidents).length > 0 && { incidents: incidentRules(draft.incidents) }),
  },
  stages: draft.stages.map((s, i) => ({
    kind: s.kind,
    race_s: s.race_s ?? 0,
    ...(i > 0 && s.entries && { entries: s.entries }),
    ...(i === 0 && s.late && takesLate.includes(s.kind) && !s.lane_design && { late: s.late }),
    ...ofKind[s.kind](s),
    ...seedsOf(s, i + 1),
  })),
});
