import type { dayCodes as English } from '../en/day-codes';
import { format } from './format';

/** The words for codes of stages, rounds and standings. */
export const dayCodes: typeof English = {
  waiting: {
    'unknown-run': 'Kein Lauf hat nach dieser Fahrt gefragt',
    'heat-closed': 'Ihr Lauf wurde abgesagt oder ist vorbei',
    'bench-out': 'Ihr Stand ist außer Betrieb',
    'wrong-bench': 'Ein anderer Stand sollte sie messen',
    'lane-taken': 'Ihre Bahn hat schon eine Fahrt',
    'set-aside': 'Die Rennleitung lässt eine andere Fahrt an ihrer Stelle zählen',
  },

  stageKind: {
    'timed-rounds': 'Durchgänge auf Zeit',
    knockout: 'K. o.',
    'double-elimination': 'Doppel-K.-o.',
    'round-robin': 'Jeder gegen jeden',
    swiss: 'Schweizer System',
    groups: 'Gruppen',
    heats: 'Läufe mit vielen Bahnen',
    'points-rounds': 'Durchgänge um Punkte nach Platz',
  },

  drawMethod: {
    'timed-rounds-lot': 'wer zusammen fährt, entscheidet das Los',
    'timed-rounds-rest': 'wer noch nicht gefahren war, wurde für die übrigen Stände neu ausgelost',
    'double-elimination-nested': 'die Gesetzten liegen so weit auseinander wie möglich, der Rest nach Los',
    'groups-berger': 'auf die Gruppen verteilt, dann trifft reihum jeder auf jeden',
    'knockout-nested': 'die Gesetzten liegen so weit auseinander wie möglich, der Rest nach Los',
    'lane-design': 'Stände und Begegnungen sind gleichmäßig verteilt',
    heats: 'die Gesetzten sind auf die Läufe verteilt, der Rest nach Los',
    'round-robin-berger': 'reihum trifft jeder auf jeden',
    'swiss-dutch': 'wer gleich viele Punkte hat, trifft aufeinander, und niemand zweimal auf dasselbe Auto',
  },

  timedRule: {
    best: 'beste Fahrt zählt',
    mean: 'Schnitt der Fahrten zählt',
    median: 'mittlere Fahrt zählt',
    sum: 'Summe aller Fahrten zählt',
  },

  decidedBy: {
    result: 'durch das Ergebnis',
    points: 'durch Punkte',
    runs: 'durch die Zahl der Fahrten',
    status: 'durch den Status',
    shared: 'geteilter Platz',
    'next-best': 'durch die nächstbeste Fahrt',
    decider: 'durch den Entscheidungslauf',
    latest: 'durch die letzte Fahrt',
    best: 'durch die beste Fahrt',
    mean: 'durch den Schnitt',
    median: 'durch die mittlere Fahrt',
    sum: 'durch die Summe',
    direct: 'durch die Läufe untereinander',
    'head-to-head': 'durch die Läufe untereinander',
    'sonneborn-berger': 'durch die Punkte der Besiegten',
    koya: 'durch Punkte gegen die obere Hälfte',
    wins: 'durch die Zahl der Siege',
    progressive: 'durch die laufenden Punkte',
    'progressive-cut-1': 'durch die laufenden Punkte',
    buchholz: 'durch die Punkte der Gegner',
    'buchholz-cut-1': 'durch die Punkte der Gegner',
    'buchholz-cut-2': 'durch die Punkte der Gegner',
    difference: 'durch den Unterschied der Strecken',
    scored: 'durch die Strecke insgesamt',
    countback: 'durch die besseren Plätze',
    'draw-order': 'durch die Reihenfolge der Auslosung',
  },

  plateRank: (place) => `${format.ordinal(place, { other: '#.' })} der Trostrunde`,

  exit: (exit) => {
    const early = /^round-of-(\d+)$/.exec(exit);
    if (early) return `ausgeschieden unter den letzten ${format.number(Number(early[1]))}`;
    const losers = /^losers-(\d+)$/.exec(exit);
    if (losers) return `ausgeschieden im Hoffnungs-Durchgang ${format.number(Number(losers[1]))}`;
    const heats = /^heats-(\d+)$/.exec(exit);
    if (heats) return `ausgeschieden in Durchgang ${format.number(Number(heats[1]))}`;
    const named: Record<string, string> = {
      final: 'im Finale verloren',
      'in-final': 'im Finale',
      'b-final': 'im B-Finale',
      third: 'Lauf um Platz 3 gewonnen',
      fourth: 'Lauf um Platz 3 verloren',
      'semi-final': 'ausgeschieden im Halbfinale',
    };
    return named[exit] ?? exit;
  },
};
