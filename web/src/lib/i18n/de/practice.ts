import type { drill as EnglishDrill, practice as English } from '../en/practice';
import { format as f } from './format';

export { signal } from './signal';

const car = (number: number) => `Auto ${number}`;

/** Texts of a free bench: its last run, practice and reference runs. */
export const practice: typeof English = {
  title: 'Ein Auto ausprobieren',
  help: 'Übung zählt nicht. Ein Aufruf geht vor.',
  car: 'Nummer des Autos',
  carHelp: 'Leer für keine.',
  seconds: 'Sekunden',
  go: 'Los',
  badCar: 'Eine Autonummer ist 1 bis 9999, oder leer.',
  unsent: 'Noch nicht gesendet: Das Netz ist weg. Der Stand startet, wenn es binnen einer Minute wieder da ist.',
  armed: 'Übung: Auto aufsetzen',
  armedHelp: 'Der Zählkasten zählt ab dem Loslassen. Halte das Auto, dann lass es los.',
  lasts: (duration) => `Die Fahrt dauert ${duration}.`,
  of: (number) => (number === undefined ? 'Übung ohne Nummer' : `Übung: ${car(number)}`),
  at: (time) => `um ${time}`,
  before: 'Frühere Fahrten an diesem Stand',
  compare:
    'Ändere eine Sache, fahr dreimal so und dreimal so und vergleiche. Ein Unterschied, der kleiner ist als der zwischen gleichen Fahrten, bedeutet nichts.',
  when: 'Uhrzeit',

  box: {
    quiet: {
      title: 'Der Zählkasten ist still.',
      todo: 'Ist der Computer daneben an und im Netz? Sieh nach seiner Lampe und seinem Stecker.',
    },
    unplugged: { title: 'Der Zählkasten ist weg.', todo: 'Steck sein Kabel fest, an beiden Enden.' },
    kept: 'Was er gezählt hat, bleibt.',
    unheard: 'Vom Zählkasten war noch nichts zu hören. Ist er an?',
  },

  reference: {
    title: 'Vergleichsfahrt',
    says: (slot) =>
      slot === undefined
        ? 'Dieser Stand hat eine Fahrt zu machen.'
        : `Hier ist Feld ${f.number(slot)} des Plans dran. Frischer Pack, warmer Motor, dazwischen nichts verstellen.`,
    go: (number, duration) => `${car(number)} ${duration} fahren lassen`,
    armed: 'Vergleichsfahrt: Auto aufsetzen',
    of: (number) => `Vergleichsfahrt von ${car(number)}`,
  },
  flags: {
    'no-signal': 'Der Sensor hat nichts gesehen. Prüfe sein Licht und sein Kabel, dann bitte um Wiederholung.',
    'cut-short': 'Die Fahrt war zu früh zu Ende. Hat der Zählkasten aufgehört, bitte um Wiederholung.',
    'early-start': 'Die Rollen drehten sich schon vor dem Start. Sag es am Start.',
    'no-rise': 'Das Auto war sofort voll im Tempo: Es lief schon vor dem Start. Sag es am Start.',
    bridged: 'Dem Sensor fehlten ein paar Impulse; sie sind ergänzt. Nichts zu tun.',
    'many-bridged': 'Dem Sensor fehlten viele Impulse. Mach ihn sauber und bitte um Wiederholung.',
    'many-extra': 'Der Sensor sah Dinge, die nicht die Marke waren. Schirme ihn von Lampen und Sonne ab.',
    'start-missed': 'Dem Sensor fehlten die ersten Impulse. Prüfe die Marke und ihr Licht.',
    burst: 'Etwas blitzte den Sensor an, vielleicht eine Fernbedienung. Halte sie fern und schirme den Sensor ab.',
    'stray-stamps': 'Fremdes Licht trifft den Sensor. Schirme ihn ab.',
    'went-silent':
      'Die Impulse hörten auf, während die Rollen sich drehten: Sensor oder Kabel fiel aus. Prüfe beide, dann fahrt noch einmal.',
    'silent-end': 'Die letzten Impulse vor dem Ende kamen nicht. Blieb das Auto stehen, oder ging die Marke verloren?',
    'mark-silent': 'Eine der Marken wird nie gesehen. Mach die Marken vor dem nächsten Auto sauber.',
    'passes-lost': 'Auf dem Weg vom Zählkasten gingen Impulse verloren. Prüfe sein Kabel.',
    'no-interval': 'Niemand kann sagen, wie weit das danebenliegt. Bitte um Wiederholung.',
    'open-gap': 'Im Signal ist ein Loch. Prüfe das Kabel und bitte um Wiederholung.',
    stalled: 'Die Rollen standen eine Weile still. Blieb das Auto stehen?',
    'off-rollers': 'Es sieht aus, als wäre das Auto von den Rollen gesprungen.',
    'mains-flicker': 'Vielleicht stört eine Lampe den Sensor. Schirme ihn ab.',
    'half-speed': 'Der Sensor sah nur jeden zweiten Impuls. Prüfe die Marke und bitte um Wiederholung.',
    'double-speed': 'Der Sensor sah jeden Impuls doppelt. Prüfe die Marke und bitte um Wiederholung.',
    'half-of-others':
      'Der Wert ist halb so groß wie bei den anderen. Prüfe die Marke und sag der Rennleitung Bescheid.',
    'double-of-others':
      'Der Wert ist doppelt so groß wie bei den anderen. Prüfe die Marke und sag der Rennleitung Bescheid.',
    'too-fast': 'Schneller als ein Auto sein kann. Prüfe den Sensor und bitte um Wiederholung.',
    'distance-not-reached': 'Das Auto kam nicht so weit wie verlangt.',
    'row-filled': 'Dem Sensor fehlte eine Reihe von Impulsen; sie sind ergänzt. Mach die Marke sauber.',
    'late-end': 'Der letzte Impuls kam spät. Wurde das Auto am Ende langsamer?',
    noise: 'Der Sensor sah ein Flackern; es ist weggelassen. Schirme ihn ab.',
    backwards:
      'Ein Teil von dem, was der Sensor sah, ergab keinen Sinn und ist weggelassen. Sag der Rennleitung Bescheid.',
    'impossible-stamp':
      'Ein Teil von dem, was der Sensor sah, ergab keinen Sinn und ist weggelassen. Sag der Rennleitung Bescheid.',
    'clock-ambiguous': 'Die Uhr des Zählkastens ist vielleicht übergelaufen. Sag der Rennleitung Bescheid.',
    'totals-disagree': 'Der Zählkasten zählte anders, als hier ankam. Bitte um Wiederholung.',
    'list-cut': 'So viel wurde berichtigt, dass die Liste davon gekürzt ist; die Zahlen sind vollständig.',
    'bench-factor': 'Was dieser Stand zu viel oder zu wenig misst, ist berichtigt.',
    restarted: 'Der Zählkasten startete während der Fahrt neu. Prüfe seinen Strom und bitte um Wiederholung.',
  },
  flagsTitle: 'Was dem Stand aufgefallen ist',
};

/** The drill with a pretend car. */
export const drill: typeof EnglishDrill = {
  open: 'Diese Seite mit einem Spielauto ausprobieren',
  title: 'Probe',
  says: 'Ein Spielauto und eine Spielhalle. Nichts wird gesendet, nichts zählt, sonst sieht es niemand. Ein echter Aufruf beendet sie; die Taste oben, die nach der Rennleitung ruft, bleibt echt.',
  away: 'So tun, als wäre das Netz weg',
  back: 'Netz wieder da',
  isAway: 'Gespielt: Das Netz ist weg. Im Rennen mach weiter und zähl von Hand.',
  end: 'Probe beenden',
  again: 'Das Spielauto noch einmal aufrufen',
  rerun: 'Noch einmal fahren',
  hints: {
    called: (n) => `Hol Auto ${n}: Tu so, als läsest du die Nummer vom Auto ab, tippe ${n} und drücke Bereit.`,
    ready: () => 'Der gespielte Start kommt in ein paar Sekunden. Hände weg.',
    racing: () => 'Es fährt. Probier „Um Wiederholung bitten“, oder lass das Netz verschwinden und zähl von Hand.',
    done: () => 'Die Fahrt ist da. Schau dir die Zahlen an; auch hier kann man um eine Wiederholung bitten.',
  },
};
