import type { formats as English } from '../../en/desk/formats';
import { chance } from '../chance';
import { format as f } from '../format';

const often = (of: number) => f.number(Math.round(of * 10));

/** Other programmes for the day, compared. */
export const formats: typeof English = {
  title: 'Andere Programme für den Tag',
  says: 'Die Klassen, die noch nicht ausgelost sind, werden einige hundert Mal durchgespielt: wie geplant und in anderen Formen, mit denselben gedachten Autos. Nichts ändert sich, bis du eines übernimmst.',
  benches: 'Wie viele Stände es geben wird',
  adults: 'Wie viele Erwachsene an ihnen sind',
  compare: 'Programme vergleichen',
  none: 'Alle Klassen sind ausgelost: Ein Programm lässt sich nur vor der ersten Auslosung ändern.',
  table: 'Programme im Vergleich',
  programme: 'Programm',
  over: 'Letztes Rennen etwa vorbei',
  between: (early, late) => `an acht von zehn Tagen: ${early} bis ${late}`,
  late: (by) => `Vorbei nach ${by}`,
  chance,
  best: 'Das schnellste Auto gewinnt',
  bestIn: (of) => `an ${often(of)} von 10 Tagen`,
  order: 'Richtige Reihenfolge',
  orderIn: (of) => `von zehn Autopaaren stehen ${f.number(of)} richtig herum`,
  runs: 'Rennen je Kind',
  runsSay: (mean, least) => `im Mittel ${f.number(mean, 1)}, mindestens ${f.number(least)}`,
  wait: 'Längstes Warten',
  waitSays: (n) => f.plural(n, { one: '1 Minute', other: '# Minuten' }),
  adopt: 'Übernehmen',
  adoptOf: (name) => `Übernehmen: ${name}`,
  adoptTitle: (name) => `Das Programm ändern: ${name}`,
  adoptSays:
    'Die Abschnitte dieser Klassen werden, wie sie hier stehen. Alles andere an den Klassen bleibt. Bis zur ersten Auslosung lässt es sich wieder ändern.',
  adopted: (name) => `Das Programm ist jetzt „${name}“.`,
  asPlanned: 'wie jetzt geplant',
  against: {
    'one-race': 'Davon wird abgeraten: Jemand geht nach einem Rennen nach Hause.',
    'no-race': 'Davon wird abgeraten: Jemand geht ohne Rennen nach Hause.',
  },
  leftOut: (divisions) => `Nicht verglichen, weil so viele ihre Abschnitte nicht fahren können: ${f.list(divisions)}.`,
  spread: (cars, usual) =>
    usual
      ? 'Wie sich Autos unterscheiden, ist wie üblich angenommen: Zu wenige Autos des Vereins sind zweimal gefahren.'
      : `Wie sich Autos unterscheiden, zeigen ${f.plural(cars, { one: 'ein Auto', other: '# Autos' })} des Vereins mit zwei Fahrten oder mehr.`,
  begins: (time, benches) =>
    `Alle beginnen um ${time} auf ${f.plural(benches, { one: 'einem Stand', other: '# Ständen' })}.`,
  plot: 'Wann es endet, und wie oft das schnellste Auto gewinnt',
  plotSays: 'Weiter links endet es früher, weiter oben gewinnt das schnellste Auto öfter.',
  plotX: 'Dauer der Rennen',
  plotY: 'Das schnellste Auto gewinnt, von 100 Tagen',
  fine: 'Alle fahren mindestens zweimal',
  advised: 'Davon wird abgeraten',
  name: {
    planned: 'Wie geplant',
    'timed-3': 'Drei Durchgänge auf Zeit',
    'timed-5': 'Fünf Durchgänge auf Zeit',
    'timed-knockout': 'Auf Zeit, dann K. o.',
    knockout: 'K. o.',
    'knockout-plate': 'K. o. mit Trostrunde',
    'two-defeats': 'Nach zwei Niederlagen raus',
    'groups-knockout': 'Gruppen, dann K. o.',
    swiss: 'Schweizer System',
    heats: 'Läufe mit vielen',
  },
};
