import type { life as English } from '../en/life';
import { format as f } from './format';

/** Ein Auto über seine Übung, die Übungswand und die Seite der Leitung. */
export const life: typeof English = {
  title: (number) => `Übung von Auto ${number}`,
  link: (number) => `Alle Übung von Auto ${number}`,
  seen: 'Die Übungsfahrten eines Autos, was an ihm geändert wurde und wie weit es fuhr.',
  none: 'Noch keine Übungsfahrt dieses Autos.',
  runs: 'Alle Fahrten, die älteste zuerst',
  plotLabel: (runs, low, high, bands) =>
    `${f.plural(runs, { one: '1 Fahrt', other: '# Fahrten' })} zwischen ${low} und ${high} km/h im Ganzen, in ${f.plural(bands, { one: '1 Reihe', other: '# Reihen' })} gleicher Fahrten. In der Liste darunter stehen alle.`,
  later: 'später',
  best: (metres, seconds) => `Das Dreieck ist die weiteste: ${metres} m in ${seconds} s.`,
  means: 'Jeder Punkt ist eine Fahrt: oben ist schneller. Jeder Streifen ist, woraus das Auto bestand.',
  states: 'Woraus es bestand',
  before: 'nicht notiert',
  state: (n) => `Aufbau ${f.number(n)}`,
  nothing: 'Nichts wurde notiert.',
  changed: (what) => `Neu: ${what}.`,
  runCount: (n) => f.plural(n, { one: '1 Fahrt', other: '# Fahrten' }),
  guesses: 'Geschätzt',
  guessesOff: (metres) => `Die letzten Schätzungen lagen um ${metres} m daneben.`,
  all: 'Jede Fahrt, die neueste zuerst',
  seconds: 'Sekunden',
  guess: 'Geschätzt, m',
  madeOf: 'Aufbau',
  card: 'Taschenkarte',
  cardSays: 'Hier stehen meine Fahrten:',
  cardCare: 'Für die Tasche: nichts an einer Schnur nahe bei Rollen.',
  scan: (number) => `Die Seite von Auto ${number}`,

  wall: {
    title: 'Übung heute',
    waits: (number) => `wartet auf Auto ${number}`,
    free: 'frei',
    next: 'Wer der Nächste ist',
    nobody: 'Niemand wartet.',
    cars: 'Jedes Auto gegen sich selbst',
    carsSays: 'Nach Nummer. Niemand ist hier Erster.',
    last: 'letzte',
    farthest: 'weiteste',
    runs: 'Fahrten',
    together: 'Zusammen gefahren',
    togetherOf: (metres, goal) => `${metres} m von ${goal} m`,
    togetherSoFar: (metres) => `${metres} m`,
    best: 'seine weiteste bisher',
  },
};
