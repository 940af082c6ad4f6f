import type { practiceDesk as English } from '../../en/desk/practice';
import { format as f } from '../format';

/** Übung im Rennbüro: einen Nachmittag beginnen und beenden, und die Seite der Leitung. */
export const practiceDesk: typeof English = {
  title: 'Übung',
  board: 'Übungstafel',
  bench: 'Einen Stand von diesem Gerät aus bedienen',
  openTitle: 'Einen Übungsnachmittag beginnen',
  open: 'Beginnen',
  benches: 'Stände',
  how: 'Wie es geht',
  seconds: 'Sekunden je Fahrt',
  secondsHelp: 'Zwei Fahrten von 15 s dauern zusammen etwa 90 s.',
  turn: 'Fahrten, bis gewechselt wird',
  turnHelp: 'Dann stellt sich das Auto hinten an.',
  goal: 'Ziel aller zusammen, m',
  goalHelp: 'Steht als ein wachsender Balken auf der Tafel. Leer für keines.',
  noBench: 'Noch ist kein Stand eingetragen.',
  noneFree: 'Jeder Stand ist in einem Nachmittag, der noch läuft.',
  enterBench: 'Einen Stand eintragen',
  openOn: (benches) => `Läuft: ${benches}`,
  since: (time, seconds, turn) =>
    `Seit ${time}; Fahrten von ${seconds} s, ${turn} bis zum Wechsel. Ein aufgerufener Lauf eines Renntags nimmt seinen Stand zurück. Bei Kindern unter acht steht an jedem laufenden Stand ein Erwachsener.`,
  end: 'Den Nachmittag beenden',
  endSays: 'Die Schlange endet, und worauf die Stände warten, wird zurückgenommen. Eine Fahrt, die läuft, bleibt.',
  over: 'Frühere Nachmittage',
  overOn: (day, time, benches) => `${day}, ${time}: ${benches}`,
  report: {
    caption: 'Autos des Nachmittags',
    car: 'Auto',
    runs: 'Fahrten',
    last: 'Letzte, m',
    farthest: 'Weiteste, m',
    builds: 'Aufbauten',
    guesses: 'Schätzung daneben um, m',
    at: 'Letzte Fahrt',
    sum: (runs, metres) => `${f.plural(runs, { one: '1 Fahrt', other: '# Fahrten' })}, zusammen ${metres} m.`,
    fewest: (cars) => `Am wenigsten gefahren: Auto ${cars}.`,
    waiting: (cars) => `Seit 15 Minuten nicht gefahren: Auto ${cars}.`,
    says: 'Nach Nummer: Es ist keine Rangliste. Ob eine Änderung ein Auto schneller machte, steht auf der Seite des Autos.',
  },
};
