import type { entryTable as English } from '../../en/desk/entry-table';
import { format as f } from '../format';

/** Entries from a table and as one. */
export const entryTable: typeof English = {
  title: 'Anmeldungen aus einer Tabelle',
  link: 'Aus einer Tabelle',
  out: 'Als CSV speichern',
  back: 'Alle Anmeldungen',

  source: 'Die Liste',
  sourceSays:
    'Kopiere die Zeilen mit ihrer Kopfzeile aus einer Tabelle und füge sie ein, oder wähle eine CSV-Datei. Nichts wird angemeldet, bevor du es angesehen hast.',
  paste: 'Liste einfügen',
  file: 'Oder eine CSV-Datei',
  fileHelp: 'Getrennt durch Komma, Semikolon oder Tabulator.',
  fileLarge:
    'Diese Datei ist zu groß für eine Liste von Anmeldungen: Lass weg, was nicht nötig ist, oder nimm sie in Teilen.',
  division: 'Klasse für Zeilen, die keine nennen',
  divisionNone: 'Jede Zeile nennt ihre eigene',
  heads: 'Welche Spaltenköpfe bekannt sind',
  headsSay: (list) =>
    `In beliebiger Reihenfolge, auf Deutsch oder Englisch: ${f.list(list)}. Nötig ist nur ein Name. Daten als 31.12.2017 oder 2017-12-31; leere Nummern werden die nächsten freien; Einverständnis mit ja oder nein, jedes in eigener Spalte oder in einer aufgezählt.`,
  look: 'Ansehen',

  looked: 'Was angemeldet würde',
  counts: (good, bad) =>
    bad === 0
      ? `${f.plural(good, { one: '# Zeile, sie stimmt', other: '# Zeilen, alle stimmen' })}.`
      : `${f.plural(bad, { one: '# Zeile hat einen Fehler', other: '# Zeilen haben Fehler' })}, ${f.number(good)} stimmen. Verbessere sie hier; die Liste wird von selbst neu angesehen.`,
  noRows: 'Keine Zeile ließ sich lesen.',
  at: (line, column) => `Zeile ${f.number(line)}, Spalte ${f.number(column)}`,
  line: 'Zeile',
  means: (head) => `Was „${head}“ ist`,
  cell: (head, line) => `${head}, Zeile ${f.number(line)}`,
  extra: 'Zu viel',
  now: 'stimmt jetzt',
  change: 'Ändern',
  changeLabel: (line) => `Zeile ${f.number(line)} ändern`,
  leaveOut: 'Weglassen',
  leaveOutLabel: (line) => `Zeile ${f.number(line)} weglassen`,
  becomes: 'Wird zu',
  years: (n) => f.plural(n, { one: '# Jahr', other: '# Jahre' }),
  racesUp: 'fährt hoch',
  late: 'spät',
  known: 'der Verein kennt diese Person',
  take: (n) => f.plural(n, { one: '# Anmeldung aufnehmen', other: '# Anmeldungen aufnehmen' }),
  notYet: (n) => f.plural(n, { one: '# Zeile ist noch falsch.', other: '# Zeilen sind noch falsch.' }),
  taken: (n) => f.plural(n, { one: '# Anmeldung ist aufgenommen.', other: '# Anmeldungen sind aufgenommen.' }),
  another: 'Eine weitere Liste nehmen',

  columns: {
    number: 'Nummer',
    division: 'Klasse',
    nickname: 'Spitzname',
    name: 'Name',
    'first-name': 'Vorname',
    'last-name': 'Nachname',
    'birth-date': 'Geburtsdatum',
    club: 'Verein',
    'say-as': 'Aussprache',
    'on-screen': 'Auf Anzeigen',
    'in-results': 'In Ergebnissen',
    photo: 'Fotos',
    consents: 'Einverständnis',
    unused: 'Weggelassen',
  },
};
