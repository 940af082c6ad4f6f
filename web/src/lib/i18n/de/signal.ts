import type { signal as English } from '../en/signal';
import { format as f } from './format';

/** The check of a bench's signal: is it good enough to race on. */
export const signal: typeof English = {
  open: 'Signal prüfen',
  title: 'Signal prüfen',
  says: (seconds) =>
    `Für Erwachsene, mit einem Auto, auf das niemand wartet. Setz es auf und lass es mit vollem Tempo laufen. Dann drück: Der Stand sieht ${seconds} lang hin und sagt, ob er richtig zählt.`,
  care: 'Die Rollen drehen schnell, und ein Auto kann abspringen. Schutz drauf, Finger, Haare, Ärmel und Bänder weg. Lass sie stehen bleiben, bevor du etwas anfasst.',
  go: (seconds) => `${seconds} lang hinsehen`,
  back: 'Zurück',
  waits: 'Auto in vollem Tempo lassen',
  waitsSays: 'Das Hinsehen beginnt von selbst.',
  looking: 'Sieht hin',
  left: (seconds) => f.plural(seconds, { one: 'noch # Sekunde', other: 'noch # Sekunden' }),
  stop: 'Nicht weiter hinsehen',
  noWord: 'Vom Zählkasten kommt nichts.',
  noWordFirst: 'Sieh nach Stecker und Lampe und ob der Computer daneben an ist.',
  reads: 'Liest, was zu sehen war.',
  good: 'Gut',
  notGood: 'Nicht gut',
  upTo: (rpm) => `Es zählt richtig bis ${f.number(rpm)} Drehungen in der Minute.`,
  first: 'Tu zuerst das:',
  seen: (time, marks, rpm) =>
    `Gesehen um ${time}: ${f.plural(marks, { one: '# Marke', other: '# Marken' })} je Drehung, ${f.number(rpm)} Drehungen in der Minute.`,
  angles: (degrees) => `Die Marken stehen bei ${f.list(degrees.map((one) => `${f.number(one)}°`))}.`,
  plot: (seconds, looks) => `Bild: Zeit von Marke zu Marke, über ${f.number(seconds)} Sekunden. ${looks}`,
  plotSays: 'Jeder Punkt ist eine Zeit von Marke zu Marke. Ein gutes Signal ist eine dünne Linie.',
  again: 'Noch einmal hinsehen',
  close: 'Schließen',
  faults: {
    silent: [
      'Keine Marke war zu sehen.',
      'Halte die Rolle an und dreh sie langsam von Hand: Blinkt die Lampe des Zählkastens an der Marke? Wenn nicht, den Sensor näher heran.',
      '',
    ],
    'too-short': [
      'Zu wenig war zu sehen, um etwas zu sagen.',
      'Setz ein Auto auf, lass es mit vollem Tempo laufen und sieh noch einmal hin.',
      'Wenige Punkte.',
    ],
    lamp: [
      'Der Sensor sieht eine Lampe, nicht die Marke.',
      'Beschatte den Sensor. Halte dann die Rolle an und dreh sie von Hand, um zu sehen, ob die Marke gesehen wird.',
      'Eine Linie, die vom ersten Moment an gerade ist.',
    ],
    echo: [
      'Marken werden zweimal gesehen.',
      'Mach die Kanten der Marke sauber und dunkel oder die Marke breiter, und den Sensor näher heran.',
      'Eine zweite Linie weit unten.',
    ],
    missed: [
      'Marken gehen ungesehen vorbei.',
      'Mach die Marke sauber und breiter, und den Sensor näher heran.',
      'Punkte in doppelter Höhe.',
    ],
    stray: [
      'Etwas anderes als die Marke wird gesehen.',
      'Beschatte den Sensor vor Lampen und vor der Sonne.',
      'Punkte, die unter der Linie verstreut sind.',
    ],
    bursts: [
      'Zeitstempel kamen in einer Reihe, schneller als jede Rolle dreht.',
      'Halte Fernbedienungen fern und beschatte den Sensor.',
      'Ein Haufen unten an einer Stelle.',
    ],
    marks: [
      'Auf der Rolle sind nicht so viele Marken, wie der Stand sagt.',
      'Halte die Rolle an und zähl die Marken einer Drehung von Hand. Ihre Zahl steht im Rennbüro unter Stände.',
      'Mehrere Linien.',
    ],
    unsteady: [
      'Die Zeiten sind ungleich.',
      'Mach Sensor und Rolle fest, sodass nichts wackelt, und die Kante der Marke gerade.',
      'Eine dicke Linie.',
    ],
    breaks: [
      'Das Signal hörte auf, während die Rolle drehte.',
      'Halte die Rolle an. Prüfe dann Kabel, Stecker und Versorgung: Sitzt etwas locker?',
      'Die Linie endet oder hat ein Loch.',
    ],
    lost: [
      'Die Marke wird gesehen, aber nicht alles kommt hier an.',
      'Prüfe Kabel und Stecker des Zählkastens.',
      'Die Linie hat Löcher.',
    ],
    restarted: [
      'Der Zählkasten hat beim Hinsehen neu begonnen.',
      'Prüfe seine Versorgung und den Stecker; erde die Achse der Rolle.',
      'Die Linie hat ein Loch.',
    ],
  },
  looksGood: 'Eine dünne Linie.',
};
