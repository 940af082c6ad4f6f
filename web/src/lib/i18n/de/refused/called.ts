import type { Told } from '../../told';

/** What heats and runs are called within a sentence, part by part. */
export const called: Told = {
  'called=division': '{n}',
  'called=group': 'Gruppe {n}',
  'called=round': 'Durchgang {n}',
  'called=winners-round': 'Sieger-Durchgang {n}',
  'called=losers-round': 'Hoffnungs-Durchgang {n}',
  'called=knockout-round': 'K. o., Durchgang {n}',
  'called=plate': 'Trostrunde',
  'called=last': 'Letzte {n}',
  'called=quarter-finals': 'Viertelfinale',
  'called=semi-finals': 'Halbfinale',
  'called=quarter-final': 'Viertelfinale {n}',
  'called=semi-final': 'Halbfinale {n}',
  'called=final': 'Finale',
  'called=second-final': 'zweites Finale',
  'called=third-place': 'Lauf um Platz 3',
  'called=plate-final': 'Trostfinale',
  'called=b-final': 'B-Finale',
  'called=heat': 'Lauf {n}',
  'called=leg': 'Teil {n}',
  'called=decider': 'Entscheidungslauf',
  'called=car': 'Startnummer {n} in ',
  'called=bench-alone': 'Stand {n} ohne Lauf',
  'called=gone': 'einem Lauf, den es nicht mehr gibt',
};
