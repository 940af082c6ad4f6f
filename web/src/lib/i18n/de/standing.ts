import type { standing as English } from '../en/standing';
import { format as f } from './format';

/** What stands beside results: what a ruling took off or changed, and which stage they are of. */
export const standing: typeof English = {
  penalty: (metres) => `${metres} m Strafe`,
  correction: (number, time) => `Berichtigung ${f.number(number)}, ${time}`,
  pending: (correction) => `${correction}, noch nicht offiziell`,
  farOff: 'Weit weg von dem, was Autos hier fahren: Die Rennleitung schaut es sich zuerst an.',
  inRace: (race, says) => `${race}: ${says}`,
  race: (round) => `Rennen ${f.number(round)}`,
  counts: {
    best: 'Beste',
    mean: 'Schnitt',
    median: 'Mittlere',
    sum: 'Summe',
    points: 'Punkte',
  },
  groupPlace: (place, group) => `${f.ordinal(place, { other: '#.' })} der Gruppe ${group}`,
};
