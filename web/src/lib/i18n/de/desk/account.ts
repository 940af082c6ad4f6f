import type { account as English } from '../../en/desk/account';
import { format as f } from '../format';

/** Sich anmelden, und Name und Passwort der Leitung. */
export const account: typeof English = {
  byKey: 'Mit Link oder Schlüssel',
  byName: 'Mit Name und Passwort',
  name: 'Name',
  password: 'Passwort',
  goByName: 'Mit Name anmelden',
  waits: (s) => f.plural(s, { one: 'Warte # s', other: 'Warte # s' }),
  stillWaits: (s) =>
    f.plural(s, {
      one: 'Warte noch eine Sekunde, dann versuch es wieder.',
      other: 'Warte noch # Sekunden, dann versuch es wieder.',
    }),
  tryNow: 'Das Warten ist vorbei: Versuch es noch einmal.',

  offer: 'Dein Link galt nur für diesen Browser. Mit Name und Passwort kannst du dich überall anmelden.',
  title: 'Wie du dich anmeldest',
  choose: 'Name und Passwort wählen',
  change: 'Name und Passwort',
  none: 'Du bist mit einem Link gekommen, der für einen Browser gilt. Mit Name und Passwort kannst du dich auch an anderen Geräten anmelden.',
  has: (name, date) => `Du meldest dich als „${name}“ an. Das Passwort ist vom ${date}.`,
  nameHelp:
    'Groß und klein geschrieben ist dasselbe. Andere aus der Leitung des Vereins sehen den Namen, sonst niemand.',
  newPassword: 'Neues Passwort',
  passwordHelp: 'Mindestens 15 Zeichen: vier oder fünf Wörter, die niemand nebeneinander stellen würde.',
  show: 'Passwort zeigen',
  chooseIt: 'Name und Passwort behalten',
  changeIt: 'Name und Passwort ändern',
  kept: 'Aufgehoben. Andere Browser, die mit deinem Schlüssel angemeldet waren, sind abgemeldet.',
  drop: 'Passwort aufgeben',
  dropTitle: 'Name und Passwort aufgeben',
  dropSays:
    'Niemand kann sich mehr damit anmelden. Browser, die angemeldet sind, bleiben es; danach brauchst du einen Link von jemandem aus der Leitung.',
  dropped: 'Name und Passwort sind vergessen.',

  sessions: 'Wo du angemeldet bist',
  sessionsSays:
    'Jeder Browser, der mit deinem Schlüssel angemeldet ist. Beende, was du nicht kennst, und ändere dann das Passwort.',
  endOthers: 'Alle anderen beenden',
  endOthersTitle: 'Alle anderen Browser abmelden',
  endOthersSays: 'Alle Browser, die mit deinem Schlüssel angemeldet sind, außer diesem, werden sofort abgemeldet.',
};
