import type { heats as English } from '../en/heats';
import { format as f } from './format';

/** What rounds and heats are called, so that a parent follows. */
export const heats: typeof English = {
  knockoutRound: (cars) =>
    cars <= 2
      ? 'Finale'
      : cars <= 4
        ? 'Halbfinale'
        : cars <= 8
          ? 'Viertelfinale'
          : cars <= 16
            ? 'Achtelfinale'
            : `Letzte ${f.number(cars)}`,
  knockoutRoundOf: (round) => `K. o., Durchgang ${f.number(round)}`,
  winnersRound: (round) => `Sieger-Durchgang ${f.number(round)}`,
  losersRound: (round) => `Hoffnungs-Durchgang ${f.number(round)}`,
  inPlate: (round) => `Trostrunde: ${round}`,
  inGroup: (group, heat) => `Gruppe ${group}: ${heat}`,
  group: (group) => `Gruppe ${group}`,
  legOf: (heat, leg) => `${heat}, ${leg > 2 ? 'Entscheidungslauf' : `Teil ${f.number(leg)}`}`,
  heatOf: (round, heat) =>
    round.endsWith('finale') ? `${round} ${f.number(heat)}` : `${round}, Lauf ${f.number(heat)}`,
};
