import type { seeds as English } from '../../en/desk/seeds';
import { format as f } from '../format';

/** The seed order of a division. */
export const seeds: typeof English = {
  title: 'Setzliste',
  of: (division) => `Setzliste: ${division}`,
  link: 'Setzliste',
  toProgramme: 'Zum Programm',
  none: 'Noch ist niemand angemeldet.',

  dealt: (stage) => `${stage}. Die Läufe werden ausgelost, es gibt also nichts zu setzen.`,
  drawn: (stage) =>
    `${stage} ist ausgelost. Wer wo gesetzt ist, ändert sich nur durch eine neue Auslosung: Das ist eine Entscheidung, braucht einen Grund und bleibt in der Liste. Es geht, bis ein Lauf des Durchgangs aufgerufen wurde.`,
  arrangeAgain: 'In anderer Reihenfolge neu auslosen',
  drawAgain: 'In dieser Reihenfolge neu auslosen',
  drawAgainSays:
    'Die Läufe des Durchgangs werden verworfen und in der Reihenfolge, die du gelegt hast, neu ausgelost. Es ist eine Entscheidung und bleibt in der Liste. Nicht möglich, sobald einer seiner Läufe aufgerufen wurde.',

  nothingGiven:
    'Noch ist keine Reihenfolge gegeben, und ohne sie kann dieser Abschnitt nicht ausgelost werden. Leg sie fest und gib sie ab.',
  stands: (method, tree) =>
    tree ? `${method}. Die Gesetzten 1 und 2 können erst im letzten Durchgang aufeinandertreffen.` : `${method}.`,
  byLotSays: 'Das Los entscheidet, und es wird gezogen, sobald die Anmeldung geschlossen ist.',
  missing: (n) =>
    f.plural(n, {
      one: '# Anmeldung ist nicht da; sie fällt bei der Auslosung heraus, wenn sie nicht kommt.',
      other: '# Anmeldungen sind nicht da; sie fallen bei der Auslosung heraus, wenn sie nicht kommen.',
    }),
  late: (who, n) =>
    f.plural(n, {
      one: `${who} kam nach dieser Reihenfolge und steht dahinter.`,
      other: `${who} kamen nach dieser Reihenfolge und stehen dahinter.`,
    }),
  gone: (who, n) =>
    f.plural(n, {
      one: `${who} ging und fiel aus der Reihenfolge.`,
      other: `${who} gingen und fielen aus der Reihenfolge.`,
    }),

  sort: {
    lot: 'Nach Los',
    hand: 'Von Hand',
    rating: 'Nach Wertungszahl',
    rank: 'Nach dem Ergebnis des Abschnitts davor',
  },
  undo: 'Rückgängig',
  send: 'Diese Reihenfolge abgeben',
  sent: 'Die Reihenfolge ist abgegeben. Sie gilt bis zur Auslosung.',

  help: 'Zieh an einem Griff, oder drücke darauf die Pfeiltasten, Pos1 oder Ende. Oder tippe den Platz.',
  handle: (who, at, of) => `${who} verschieben: Setzplatz ${f.number(at)} von ${f.number(of)}`,
  placeOf: (who) => `Platz von ${who}`,
  moved: (who, at, of) => `Auto ${who} hat jetzt Setzplatz ${f.number(at)} von ${f.number(of)}.`,
  atEnd: (who, at, of) => `Auto ${who} bleibt auf Setzplatz ${f.number(at)} von ${f.number(of)}.`,
  rank: (n) => `${f.ordinal(n, { other: '#.' })} davor`,
  rating: (n) => `Wertungszahl ${f.number(Math.round(n))}`,
  lateOne: 'spät',
  notThere: 'nicht da',
  lot: 'nach Los',

  ratings: 'Wertungszahlen',
  ratingsSays:
    'Aus den veröffentlichten Ergebnissen aller Renntage, nur zum Setzen; kein Platz hängt davon ab. Rennen zu zweit zählen, 1.500 ist jemand Unbekanntes. ± sagt, wie weit die wahre Zahl nach beiden Seiten danebenliegen kann, in 95 von 100 Fällen.',
  ratingsNone: 'Noch sind keine Ergebnisse von Rennen zu zweit veröffentlicht.',
  carClass: 'Autoklasse',
  ratingOf: 'Wertungszahl',
  games: 'Rennen',
  meets: 'Renntage',
  noName: 'Jemand Gelöschtes',

  leave: 'Diese Reihenfolge ist noch nicht abgegeben. Die Seite ohne sie verlassen?',
  preview: 'Erster Durchgang',
  previewSays: 'Wer auf wen träfe, wenn jetzt ausgelost würde. Nichts davon wird aufgehoben.',
  group: (letter) => `Gruppe ${letter}:`,
};
