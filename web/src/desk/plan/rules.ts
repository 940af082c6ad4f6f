import type { Schema } from '$lib/api';

type Rules = Schema['Rules'];
export type Incident = Schema['IncidentRule']['incident'];
export type Consequence = Schema['IncidentRule']['consequence'];
export const incidents: readonly Incident[] = ['off-rollers', 'stalled', 'false-start', 'bench-failed'];

/** IncidentTable is a consequence for each incident, or '' where nothing is said. */
export type IncidentTable = Record<Incident, Consequence | ''>;

export function incidentTable(rules: Schema['IncidentRule'][] | undefined): IncidentTable {
  const of = (incident: Incident) => rules?.find((i) => i.incident === incident)?.consequence ?? '';
  return {
    'off-rollers': of('off-rollers'),
    stalled: of('stalled'),
    'false-start': of('false-start'),
    'bench-failed': of('bench-failed'),
  };
}

export const incidentRules = (table: IncidentTable): Schema['IncidentRule'][] =>
  incidents.flatMap((incident) => {
    const consequence = table[incident];
    return consequence ? [{ incident, consequence }] : [];
  });

/** RulesDraft is the rules as the form holds them: minutes, and a consequence or '' for each incident. */
export interface RulesDraft {
  protest_min: number | null;
  call_min: number | null;
  reruns: number | null;
  runs_at_least: number | null;
  tie: Rules['tie'];
  close: NonNullable<Rules['close']>;
  did_not_finish: Rules['did_not_finish'];
  benches: Rules['benches'];
  late: Rules['late'];
  hand_counts: Rules['hand_counts'];
  incidents: IncidentTable;
  battery_gate: Schema['GateRule'];
  inspection_gate: Schema['GateRule'];
}

/** usualRules are a start for a new meet (common practice); the server has the same. */
export const usualRules = (): Rules => ({
  protest_s: 300,
  call_s: 180,
  reruns_per_entry: 2,
  tie: 'next-best',
  close: 'say',
  did_not_finish: 'keep-distance',
  benches: 'report',
  late: 'next-round',
  hand_counts: 'ranks',
  incidents: [
    { incident: 'off-rollers', consequence: 'keep-distance' },
    { incident: 'stalled', consequence: 'keep-distance' },
    { incident: 'false-start', consequence: 'rerun-lane' },
    { incident: 'bench-failed', consequence: 'rerun-lane' },
  ],
});

export function draftOf(rules: Rules): RulesDraft {
  return {
    protest_min: rules.protest_s / 60,
    call_min: rules.call_s / 60,
    reruns: rules.reruns_per_entry,
    runs_at_least: rules.runs_at_least || null,
    tie: rules.tie,
    close: rules.close ?? 'say',
    did_not_finish: rules.did_not_finish,
    benches: rules.benches,
    late: rules.late,
    hand_counts: rules.hand_counts,
    incidents: incidentTable(rules.incidents),
    battery_gate: rules.battery_gate ?? 'off',
    inspection_gate: rules.inspection_gate ?? 'off',
  };
}

export const bodyOf = (draft: RulesDraft): Rules => ({
  protest_s: Math.round((draft.protest_min ?? 0) * 60),
  call_s: Math.round((draft.call_min ?? 0) * 60),
  reruns_per_entry: draft.reruns ?? 0,
  ...(draft.runs_at_least && { runs_at_least: draft.runs_at_least }),
  tie: draft.tie,
  close: draft.close,
  did_not_finish: draft.did_not_finish,
  benches: draft.benches,
  late: draft.late,
  hand_counts: draft.hand_counts,
  incidents: incidentRules(draft.incidents),
  ...(draft.battery_gate !== 'off' && { battery_gate: draft.battery_gate }),
  ...(draft.inspection_gate !== 'off' && { inspection_gate: draft.inspection_gate }),
});
