import { format as f } from './format';

/** What rounds and heats are called, so that a parent follows. */
export const heats = {
  /** Names of rounds of a knockout by how many cars are left in them. */
  knockoutRound: (cars: number) =>
    cars <= 2 ? 'Final' : cars <= 4 ? 'Semi-finals' : cars <= 8 ? 'Quarter-finals' : `Last ${f.number(cars)}`,
  /** A round of a knockout of which it is not known how many come after it. */
  knockoutRoundOf: (round: number) => `Knockout, round ${f.number(round)}`,
  /** Rounds of a double elimination: of those who have not lost, and of those who have lost once. */
  winnersRound: (round: number) => `Winners’ round ${f.number(round)}`,
  losersRound: (round: number) => `Losers’ round ${f.number(round)}`,
  inPlate: (round: string) => `Plate: ${round}`,
  inGroup: (group: string, heat: string) => `Group ${group}: ${heat}`,
  group: (group: string) => `Group ${group}`,
  legOf: (heat: string, leg: number) => `${heat}, ${leg > 2 ? 'decider' : `leg ${f.number(leg)}`}`,
  heatOf: (round: string, heat: number) =>
    round.endsWith('-finals') ? `${round.slice(0, -1)} ${f.number(heat)}` : `${round}, heat ${f.number(heat)}`,
};
