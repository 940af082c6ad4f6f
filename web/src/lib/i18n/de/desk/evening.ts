import type { evening as English } from '../../en/desk/evening';
import { format as f } from '../format';

const all =
  'Bilder, Regeln, Sicherheitshinweise, Schilder, Taschenkarten und der erste Durchgang, wo er ausgelost ist.';

/** The evening before a race day. */
export const evening: typeof English = {
  title: 'Der Abend davor',

  address: 'Wo die Codes gelten',
  onlyAt: (address) =>
    `Alle Codes und Links dieses Drucks gelten nur unter ${address}. Ein anderer Router gibt diesem Laptop eine andere Adresse: Bring deinen eigenen Router mit und benutze ihn heute Abend, oder drucke in der Halle.`,
  test: 'Probiere es mit einem Handy, bevor etwas gedruckt wird: Handy ins selbe WLAN, diesen Code scannen, und die Seite des Renntags öffnet sich.',
  testCode: 'Code der Seite dieses Renntags, zum Ausprobieren mit einem Handy',
  local: (address) =>
    `Die einzige bekannte Adresse ist ${address}, sie nennt nur diesen Rechner: Kein Handy kann sie öffnen. Verbinde dich mit dem Netz, lass den Server darin antworten und lade diese Seite neu, bevor Codes gedruckt werden.`,

  keys: 'Schlüssel für die Standhilfen',
  keysSays:
    'Schlüssel werden nur als Prüfsumme aufgehoben, deshalb lassen sich nur jetzt gemachte drucken: einer je Stand, gültig bis zum Ende des Renntags. Wer das Papier hat, hat den Schlüssel; unter Schlüssel kann er zurückgenommen werden.',
  keysOrganiser: 'Nur die Leitung kann Schlüssel machen.',
  keysNoBench: 'Noch ist kein Stand im Renntag: Hol welche auf der Seite des Plans herein.',
  makeKeys: (n) =>
    f.plural(n, { one: '# Schlüssel für diesen Druck machen', other: '# Schlüssel für diesen Druck machen' }),
  keysMade: (n) =>
    `${f.plural(n, { one: '# Schlüssel ist', other: '# Schlüssel sind' })} gemacht und im Druck unten. Verlässt du diese Seite, sind sie weg.`,

  print: 'Drucken',
  printSays: `Prüfliste, Startlisten, Anwesenheitsliste, Schlüssel, ${all}`,
  printWithoutKeys: `Prüfliste, Startlisten, Anwesenheitsliste, ${all} Keine Schlüssel: Noch ist keiner gemacht.`,
  printAll: 'Alles für morgen drucken',

  keySheet: 'Schlüssel für die Standhilfen',
  keySheetSays: 'Auseinanderschneiden und jeden dem geben, für den er gedacht ist. Nie einen aufhängen.',
  keyCode: (label) => `Code des Schlüssels: ${label}`,
  opens: (benches) =>
    `Öffnet die Seite von ${benches.length === 1 ? 'Stand' : 'den Ständen'} ${f.list(benches.map((n) => f.number(n)))} und sonst nichts.`,
  ends: (date) => (date ? `Gültig bis zum Ende: ${date}.` : 'Gültig, bis er zurückgenommen wird.'),
  onlyThere: (address) => `Gilt nur unter ${address}.`,

  listSays:
    'Ankreuzen, was erledigt ist. Die übliche Sorgfalt; die Regeln des Ortes und die Menschen, die dort das Sagen haben, gehen vor.',
  list: (address) => [
    {
      title: 'Der Laptop',
      items: [
        { says: 'Der Ruhezustand ist aus, am Netz und im Akkubetrieb, für den ganzen Tag.' },
        { says: 'Den Deckel zu schließen bewirkt nichts.' },
        { says: 'Updates warten bis zum Tag danach, Neustarts auch.' },
        { says: 'Das Netzteil ist eingepackt, mit einer Verlängerung; kein Kabel liegt, wo Kinder laufen.' },
        {
          says: 'Der Bildschirm ist dort lesbar, wo er steht; auf einem Beamer erscheinen keine Meldungen oder E-Mails.',
        },
      ],
    },
    {
      title: 'Das Netz',
      items: [
        {
          says: `Die Codes auf Papier gelten nur unter ${address}: Derselbe Router kommt mit, oder sie werden in der Halle gedruckt.`,
        },
        { says: 'Ein Handy hat den Renntag und einen Schlüssel über seinen Code geöffnet.' },
        { says: 'Ein Zählkasten hat eine Übungsfahrt gesendet.' },
      ],
    },
    {
      title: 'Eine Kopie auf einem Stick',
      items: [
        {
          says: 'Die Daten kopieren, auch während der Server läuft; statt STICK den Ordner deines Sticks einsetzen.',
          commands: ['benchmeet backup STICK/evening.db'],
        },
        {
          says: 'Die Kopie prüfen: Es muss ohne Problem enden, mit so vielen Ereignissen, wie du erwartest.',
          commands: ['benchmeet verify STICK/evening.db'],
        },
        {
          says: 'Prüfen, ob sie sich zurückspielen lässt: in einen neuen Ordner holen, ansehen, den Ordner wieder löschen.',
          commands: ['benchmeet import STICK/evening.db --data restore-check', 'benchmeet verify --data restore-check'],
        },
        {
          says: 'Auf dem Stick stehen Namen: Er bleibt bei der Leitung, und die Kopie wird bis zu dem Tag gelöscht, den evening.db.json nennt.',
        },
      ],
    },
    {
      title: 'Sachen',
      items: [
        { says: 'Papier, Stifte, eine Uhr je Stand und dieser Druck.' },
        {
          says: 'Ersatzzellen, ein Messgerät, eine Schale für heiße oder beschädigte Zellen, fern von allem, was brennt.',
        },
        { says: 'Erste Hilfe, und wer dafür zuständig ist; wo die Ausgänge sind.' },
      ],
    },
  ],
};
