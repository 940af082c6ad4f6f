import type { entries as English } from '../../en/desk/entries';
import { format as f } from '../format';
import { entryTable } from './entry-table';

const afterClosing =
  'Danach kann hier niemand angemeldet oder geändert werden, bis die Anmeldung wieder geöffnet wird; das geht bis zur Auslosung.';

/** Entries of a meet and the check-in. */
export const entries: typeof English = {
  title: 'Anmeldungen',
  none: 'Noch ist niemand angemeldet. Nimm die erste Anmeldung auf.',
  noneFound: 'Keine Anmeldung passt. Leere die Suche oder wähle einen anderen Filter.',
  noDivisions: 'Noch gibt es keine Klasse, deshalb kann niemand angemeldet werden.',
  toPlan: 'Im Plan eine Klasse hinzufügen',

  counts: 'Anmeldungen nach Klasse',
  division: 'Klasse',
  entered: 'Angemeldet',
  there: 'Da',
  open: 'offen',
  closed: 'geschlossen',
  entriesAre: 'Anmeldung',
  close: 'Anmeldung schließen',
  closeTitle: (name) => `Die Anmeldung von ${name} schließen`,
  changeShort: 'Versprechen oder Programm ändern',
  closeShort: 'Trotzdem schließen: Manche fahren vielleicht seltener als versprochen',
  closeSays: (missing) =>
    missing === 0
      ? `Alle sind da. ${afterClosing}`
      : f.plural(missing, {
          one: `# Anmeldung ist nicht als da gemeldet und wird nicht ausgelost. ${afterClosing}`,
          other: `# Anmeldungen sind nicht als da gemeldet und werden nicht ausgelost. ${afterClosing}`,
        }),
  reopen: 'Wieder öffnen',
  reopenLabel: (name) => `Wieder öffnen: ${name}`,
  closeLabel: (name) => `Anmeldung schließen: ${name}`,

  checkIn: 'Als da melden',
  checkInSays: 'Startnummer tippen und Eingabe drücken.',
  number: 'Startnummer',
  checkInButton: 'Ist da',
  checkedIn: (who, division) => `${who} (${division}) ist da.`,
  already: (who) => `${who} war schon da.`,
  noNumber: (n) => `Niemand hat die Startnummer ${f.number(n)}.`,
  notRead: 'Die Liste der Anmeldungen wird noch gelesen. Drücke gleich noch einmal.',
  undo: 'Zurücknehmen',
  undoLabel: (who) => `Zurücknehmen: ${who} ist da`,
  checkInLabel: (who) => `Ist da: ${who}`,

  search: 'Suchen',
  searchHelp: 'Nummer, Spitzname, Name oder Verein.',
  filter: 'Zeigen',
  filters: {
    all: 'Alle',
    missing: 'Nicht da',
    there: 'Da',
    shared: 'Teilen ein Auto',
    out: 'Zurückgezogen oder disqualifiziert',
    late: 'Spät oder hochfahrend',
    age: 'Alter passt nicht',
  },
  all: 'Alle Klassen',
  shown: (n, of) => `${f.number(n)} von ${f.plural(of, { one: '# Anmeldung', other: '# Anmeldungen' })}`,

  nickname: 'Spitzname',
  name: 'Name',
  car: 'Auto',
  shares: (numbers) => `teilt mit ${f.list(numbers.map((n) => f.number(n)))}`,
  ownCar: 'eigenes',
  state: 'Zustand',
  racesUp: 'fährt hoch',
  years: (n) => f.plural(n, { one: '# Jahr', other: '# Jahre' }),
  ageMarks: {
    'too-old':
      'Älter, als diese Klasse aufnimmt: Ändere die Anmeldung auf eine ältere Klasse, oder stell das Geburtsdatum richtig.',
    younger:
      'Jünger als diese Klasse: „Ändern“ öffnen und speichern, dann ist es als hochfahrend vermerkt; oder eine jüngere wählen.',
    'not-younger':
      'Als hochfahrend vermerkt, ist aber im Alter dieser Klasse: „Ändern“ öffnen und speichern stellt es richtig.',
  },
  late: 'spät',
  reruns: (n) => f.plural(n, { one: '# Wiederholung', other: '# Wiederholungen' }),
  actions: 'Tun',
  changeLabel: (who) => `Ändern: ${who}`,
  rule: 'Entscheiden',
  ruleLabel: (who) => `Entscheiden: ${who}`,

  take: 'Anmeldung aufnehmen',
  takeAnother: 'Diese Anmeldung aufnehmen',
  taken: (n) => `Nummer ${f.number(n)} ist angemeldet. Das Formular ist bereit für die nächste.`,
  person: 'Wer',
  personNew: 'Jemand Neues',
  personKnown: 'Jemand, den der Verein kennt',
  known: 'Person',
  entry: 'Anmeldung',
  startNumberHelp: 'Die nächste freie ist eingetragen.',
  takeNumber: (n) => `Stattdessen Nummer ${f.number(n)} nehmen`,
  carOwn: 'Ein eigenes Auto',
  carOf: (who) => `Das Auto von ${who}`,
  carHelp: 'Geschwister dürfen eines teilen; sie fahren nie gleichzeitig.',
  club: 'Verein',
  clubHelp:
    'Verein, Schule oder Gruppe, für alle sichtbar; Auslosungen können Vereinskameraden trennen. Leer: keiner. Nie der Name einer Person.',
  change: 'Anmeldung ändern',
  changeTitle: (n) => `Nummer ${f.number(n)} ändern`,
  changeDraws: 'Ist eine Klasse ausgelost, bleiben ihre Anmeldungen, wie sie sind.',
  changePerson: 'Person ändern',

  personName: 'Voller Name',
  personNameHelp: 'Nur für die Rennleitung; nie auf einer Anzeige.',
  display: 'Spitzname',
  displayHelp: 'Für Anzeigen und Ergebnisse. Leer: Die Startnummer steht dafür.',
  sayAs: 'Aussprache',
  sayAsHelp: 'Für die Durchsage, etwa „LIE-sel“.',
  birth: 'Geburtsdatum',
  birthHelp: 'Für die Altersklasse. Leer: Das Alter wird nicht geprüft.',
  guardian: 'Womit die Eltern einverstanden sind',
  guardianSays: 'Jedes für sich; nichts ist vorher angekreuzt.',
  onScreen: 'Spitzname auf Anzeigen',
  inResults: 'Spitzname in veröffentlichten Ergebnissen',
  photo: 'Fotos',

  table: entryTable,

  away: {
    title: 'Weggelegt',
    says: 'Anmeldungen, die versehentlich aufgenommen wurden. Sie werden nur hier gezeigt.',
    text: 'Diese Anmeldung weglegen',
    confirm: 'Weglegen',
    asks: (who) =>
      `${who} verschwindet aus allen Listen, Seiten und Anzeigen, und die Startnummer ist frei. Tu das, wenn eine Anmeldung versehentlich aufgenommen wurde; ein Kind, das nach Hause geht, wird zurückgezogen. Das Protokoll behält sie, und ein Druck auf dieser Seite holt sie zurück.`,
    back: 'Zurückholen',
    backLabel: (who) => `Zurückholen: ${who}`,
  },
};
