import type { Schema } from '$lib/api';
import { t } from '$lib/i18n';
import { dayCodes } from '$lib/i18n/day-codes';
import { planTexts } from '$lib/i18n/plan';
import { seedFields } from './division';

type Stage = Schema['StageBody'];

/** What a stage is counted in, and how many it has. */
function counted(s: Stage): string {
  const p = planTexts.stageLine;
  if (s.kind === 'groups') return p.groups(s.groups ?? 0);
  if (s.kind === 'timed-rounds' || s.kind === 'swiss' || s.kind === 'points-rounds') return p[s.kind](s.rounds ?? 0);
  return dayCodes.stageKind[s.kind];
}

/** stageLine is a stage of a programme in one line: all that was chosen for it. `number` counts the stages from 1. */
export function stageLine(s: Stage, number: number): string {
  const p = planTexts;
  const meets = s.kind === 'groups' || s.kind === 'round-robin';
  const many = s.kind === 'timed-rounds' || s.kind === 'points-rounds' || s.kind === 'heats';
  const has = seedFields(s.kind, number);
  return [
    counted(s),
    p.stageRace(t.units.duration(s.race_s)),
    meets && p.withCycles(s.cycles ?? 1),
    many && p.withLanes(s.lanes),
    s.heats && p.withHeats(s.heats),
    s.rule && dayCodes.timedRule[s.rule],
    s.place_points && p.withPoints(s.place_points),
    s.entries && p.stageBest(s.entries),
    s.third_place && p.withThird,
    s.plate && p.withPlate,
    s.legs === 2 && p.withLegs,
    s.lane_design && p.withDesign,
    s.advance && p.withAdvance(s.advance, s.next_best ?? 0),
    s.b_final && p.withBFinal,
    has.seeding && p.seeded[s.seeding ?? 'lot'],
    has.seeds && s.seeds && p.withSeeds(s.seeds),
    has.clubs && s.separate_clubs && p.clubsApart,
  ]
    .filter(Boolean)
    .join(', ');
}
