import type { paper as English } from '../../en/desk/paper';
import { format as f } from '../format';

export { evening } from './evening';

const code = (of: string) => `Prüfcode ${of}`;

/** What the desk prints. */
export const paper: typeof English = {
  title: 'Drucke',
  says: 'Jeder Druck öffnet das Druckfenster deines Browsers; dort lässt er sich auch als Datei aufheben. A4 und Letter passen beide.',
  print: 'Drucken',
  printOf: (sheet) => `Drucken: ${sheet}`,
  look: 'Ansehen',
  lookAt: (sheet) => `Ansehen: ${sheet}`,
  back: 'Alle Drucke',
  printThis: 'Dies drucken',
  officials:
    'Für die Rennleitung: Hier stehen Namen, deren Anzeige die Familien nicht zugestimmt haben. Nicht an die Wand; nach dem Tag vernichten.',
  groups: { round: 'Der nächste Durchgang', day: 'Der Tag', evening: 'Der Abend davor' },

  code,
  printed: (time) => `Gedruckt um ${time}.`,
  codeMeans: (of) =>
    `Prüfcode ${of}: die ersten Zeichen vom Fingerabdruck des Protokolls in diesem Augenblick. Er ändert sich mit allem, was aufgeschrieben wird; Blätter mit demselben Code erzählen also vom selben Augenblick, und das Protokoll kann es beweisen.`,
  noCode:
    'Der Tag ging weiter, während dies gelesen wurde, deshalb hat es keinen Prüfcode: Drucke es in einem ruhigen Augenblick noch einmal.',
  foot: (sheet, meet, day) => `${sheet} · ${meet} · ${day}`,
  page: (of) => (of ? `${code(of)} · Seite ` : 'Seite '),
  pageOf: ' von ',

  division: 'Klasse',
  allDivisions: 'Alle Klassen',
  round: 'Durchgang',
  nextRound: 'Was als Nächstes gefahren wird',
  none: {
    entries: 'Noch ist niemand angemeldet.',
    next: 'Kein Durchgang, der noch zu fahren ist, ist ausgelost.',
    results: 'Noch ist kein Ergebnis ausgehängt.',
    benches: 'Noch ist kein Stand im Renntag.',
  },

  unprinted: (rounds) => `Ausgelost und hier noch nicht gedruckt: ${f.list(rounds)}.`,
  unprintedSays: 'Mit der Papiermappe lässt sich der Durchgang ohne Strom und Netz fahren.',
  kitNow: 'Papiermappe jetzt drucken',

  sheets: {
    kit: { name: 'Papiermappe', says: 'Aufrufliste und Laufblätter des nächsten Durchgangs in einem Druck.' },
    'call-list': {
      name: 'Aufrufliste',
      says: 'Was bei der Durchsage gelesen wird: wer jetzt kommt, wer sich bereit macht, wie man es ausspricht.',
    },
    'heat-sheets': {
      name: 'Laufblätter',
      says: 'Um von Hand aufzuschreiben, was die Autos an den Ständen tun, von der Rennleitung unterschrieben.',
    },
    'start-list': { name: 'Startliste', says: 'Wer in welcher Klasse fährt, für die Wand.' },
    'roll-call': {
      name: 'Anwesenheitsliste',
      says: 'Wer da ist und wer nach Hause gegangen ist, zum Ankreuzen von Hand.',
    },
    results: {
      name: 'Ergebnisse',
      says: 'Ein Durchgang, wie ausgehängt: Plätze, Strafen, bis wann Einspruch möglich ist.',
    },
    certificates: {
      name: 'Urkunden',
      says: 'Eine für jedes Kind; Plätze stehen darauf, sobald die Ergebnisse offiziell sind.',
    },
    evening: {
      name: 'Der Abend davor',
      says: 'Worauf heute Abend zu achten ist, und alles für morgen in einem Druck.',
    },
    plates: { name: 'Schilder der Stände', says: 'Ein großes Schild für jeden Stand.' },
    cards: { name: 'Taschenkarten', says: 'Nummer, Klasse und die Adresse der eigenen Seite, zum Ausschneiden.' },
    pictures: { name: 'Am Stand', says: 'Eine halbe Seite für Standhilfen, in sechs Bildern.' },
    rules: { name: 'Regeln des Tages', says: 'Was vor dem ersten Lauf abgemacht wurde. Es gilt für alle gleich.' },
    care: { name: 'Pass auf', says: 'Die Sicherheitshinweise in großer Schrift, für die Wand.' },
  },

  heat: 'Lauf',
  bench: 'Stand',
  number: 'Nummer',
  car: 'Auto',
  who: 'Name',
  sayAs: 'Sprich',
  club: 'Verein',
  note: 'Hinweis',
  here: 'Da',
  gone: 'Nach Hause',
  pack: 'Pack',
  laps: 'Runden',
  distance: 'Meter',
  flag: 'Was passiert ist',

  startList: {
    says: 'Spitznamen stehen hier, wo die Familien zugestimmt haben, sonst nur die Nummer.',
    count: (n) => f.plural(n, { one: '# Anmeldung', other: '# Anmeldungen' }),
    sharesCar: (numbers) => `dasselbe Auto wie ${f.list(numbers.map((n) => f.number(n)))}`,
    racesUp: 'fährt hoch',
    withdrawn: 'zurückgezogen',
    disqualified: 'disqualifiziert',
    racesIn: (division) => `Fährt zusammen mit ${division}.`,
  },

  callList: {
    now: 'Jetzt an die Stände:',
    ready: 'Macht euch bereit:',
    readyLast: 'Das ist der letzte Lauf des Durchgangs.',
    calls: ['Erster Aufruf', 'Zweiter Aufruf', 'Letzter Aufruf'],
    numberOf: (n) => `Nummer ${f.number(n)}`,
    called: 'schon aufgerufen',
  },

  heatSheet: {
    says: (hand) =>
      `Kein Netz oder kein Strom: Fahrt nach der Uhr in deiner Hand. Zähl Runden oder lies die Meter ab, schreib sie hier auf, unterschreib und bring das Blatt ins Rennbüro. ${hand}`,
    ranks: 'Eine Handzählung ist gekennzeichnet und zählt für die Rangliste.',
    shown: 'Eine Handzählung ist gekennzeichnet und zählt nach den Regeln dieses Tages nicht für die Rangliste.',
    race: (duration, lap) => `Das Rennen dauert ${duration}. Eine Runde ist ${lap} m.`,
    begun: 'Gestartet um',
    signature: 'Unterschrift der Rennleitung',
    flags: 'von den Rollen, stehen geblieben, Fehlstart, Stand ausgefallen, nicht gestartet',
    lost: 'Netz mitten im Lauf weg? Lass das Rennen enden, schreib auf, dann warte auf das Rennbüro: Eine Fahrt, die der Zählkasten noch hat, zählt zuerst.',
    care: 'Finger, Haare und Ärmel weg; lass die Rollen stehen bleiben, bevor du etwas anfasst. „Alle Stopp“ gilt für alle.',
  },

  results: {
    provisional: (until) => `Vorläufig: Einspruch ist bis ${until} möglich.`,
    protestOver: 'Vorläufig: Die Einspruchsfrist ist vorbei.',
    official: 'Offiziell.',
    open: 'Noch nicht zu Ende gefahren.',
    place: 'Platz',
    distance: 'Strecke',
    laps: 'Runden',
    penalty: (metres) => `${metres} m Strafe abgezogen`,
    hand: 'von Hand gezählt',
    corrected: (read) => `geteilt durch den Faktor des Stands; der Stand maß ${read} m`,
    plusMinus: 'Das ± enthält die wahre Strecke 95-mal von 100.',
  },

  certificates: {
    size: 'Größe',
    sizes: { page: 'Eine je Seite', half: 'Zwei je Seite' },
    title: 'Urkunde',
    raced: (meet) => `hat ein Auto gebaut und ist damit auf den Rollen gefahren: ${meet}`,
    number: (n) => `Auto ${f.number(n)}`,
    place: (place, of) => `${place} Platz von ${f.number(of)}`,
    in: (division) => `in ${division}`,
    races: (n) => f.plural(n, { one: '# Rennen', other: '# Rennen' }),
    longest: (metres) => `das längste ${metres} m`,
    unofficial: 'Die Ergebnisse sind noch nicht offiziell, deshalb stehen auf den Urkunden keine Plätze.',
    organiser: 'Leitung',
    official: 'Rennleitung',
    nobody: 'In dieser Klasse ist niemand angemeldet.',
  },

  rollCall: {
    says: 'Zählt zu den Zeiten, die ihr über die Spalten schreibt. Nach einem Alarm: Wer hier angekreuzt und nicht nach Hause gegangen ist, muss gefunden werden.',
    hour: 'Uhrzeit',
  },

  cards: {
    own: 'Meine Seite, sobald ich gefahren bin:',
    care: 'Für die Tasche: nichts an einem Band in der Nähe der Rollen.',
    scan: (n) => `Code der Seite von Auto ${f.number(n)}`,
  },

  plates: {
    bench: 'Stand',
    scan: (n) => `Code der Seite von Stand ${f.number(n)}`,
    code: 'Für angemeldete Standhilfen: Dieser Code öffnet die Seite dieses Stands. Er enthält keinen Schlüssel.',
  },

  pictures: {
    title: 'Am Stand',
    steps: [
      {
        title: 'Anmelden',
        says: 'Richte die Kamera des Handys auf deinen Schlüssel. Die Seite des Stands öffnet sich.',
      },
      { title: 'Nummer lesen', says: 'Ein Auto ist aufgerufen: Lies die Nummer auf dem Auto und tippe sie.' },
      { title: 'Hände weg, bereit', says: 'Auto über die Rollen. Drücke Bereit. Niemand fasst die Rollen an.' },
      {
        title: 'Auf den Start warten',
        says: 'Am Start heißt es: los. Setz das Auto auf wie bei der Einweisung gesagt.',
      },
      { title: 'Stehen bleiben lassen', says: 'Zeit um: Warte, bis die Rollen stehen. Dann nimm das Auto.' },
      {
        title: 'Etwas stimmt nicht?',
        says: 'Behalte das Auto hier, bitte auf der Seite um Wiederholung, ruf die Rennleitung.',
      },
    ],
    stop: '„Alle Stopp“ gilt für alle: laut weitergeben. Keine Seite hält ein Auto an.',
    cut: 'hier schneiden',
  },
};
