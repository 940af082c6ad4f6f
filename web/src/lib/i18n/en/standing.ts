import { format as f } from './format';

/** What stands beside results: what a ruling took off or changed, and which stage they are of. */
export const standing = {
  penalty: (metres: string) => `${metres} m penalty`,
  correction: (number: number, time: string) => `Correction ${f.number(number)}, ${time}`,
  pending: (correction: string) => `${correction}, not official yet`,
  farOff: 'Far from what cars run here: an official looks at it first.',
  inRace: (race: string, says: string) => `${race}: ${says}`,
  /** A round of a stage that counts its rounds. */
  race: (round: number) => `Race ${f.number(round)}`,
  /** What a stage ranks by, at the head of a column. */
  counts: {
    best: 'Best',
    mean: 'Average',
    median: 'Middle',
    sum: 'Sum',
    points: 'Points',
  },
  groupPlace: (place: number, group: string) =>
    `${f.ordinal(place, { one: '#st', two: '#nd', few: '#rd', other: '#th' })} of group ${group}`,
};
