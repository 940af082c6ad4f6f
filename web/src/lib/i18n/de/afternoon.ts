import type { afternoon as English } from '../en/afternoon';
import { format as f } from './format';

const car = (number: number) => `Auto ${number}`;

/** Ein Übungsnachmittag an einem Stand, für Kinder und ihre Leitung: kurze Wörter, keine Rangliste. */
export const afternoon: typeof English = {
  title: 'Übungsnachmittag',
  open: 'Hier einen Übungsnachmittag beginnen',
  openSays: (seconds) =>
    `Die Kinder tippen die Nummer ihres Autos an, und der Stand nimmt von selbst das nächste. Jede Fahrt dauert ${seconds} s.`,
  close: 'Den Nachmittag beenden',
  closeSure: 'Jetzt beenden? Noch einmal drücken.',

  ready: 'Bereit',
  go: 'Los',
  stop: 'Halt',
  readySays: (number) =>
    number === undefined
      ? 'Auto aufsetzen. Festhalten. Loslassen.'
      : `Auto ${number} aufsetzen. Festhalten. Loslassen.`,
  turn: (nth, of) => `Fahrt ${f.number(nth)} von ${f.number(of)}`,
  goesOn: 'Es geht weiter: Niemand wartet',
  wait: 'Warte auf die Zahl.',
  left: 'Sekunden noch',
  handsOff: 'Hände weg',
  silent: 'Der Zählkasten sagt nichts.',
  silentSays:
    'Sieh nach seiner Lampe und seinem Kabel. Was er gezählt hat, bleibt. Dann drück Halt und fahr noch einmal.',
  notYet: (number) =>
    `Noch dreht sich nichts. Wenn Auto ${number} aufsitzt und läuft, sieh nach Lampe und Kabel des Zählkastens.`,

  pick: 'Tipp dein Auto an',
  pickMore: 'Wer ist der Nächste? Tipp dein Auto an',
  other: 'Andere Nummer',
  otherTitle: 'Die Nummer auf dem Auto',
  badNumber: 'Eine Autonummer ist 1 bis 9999.',
  put: 'Anstellen',
  joinLabel: (number) => `${car(number)} anstellen`,
  queue: 'Wer der Nächste ist',
  nobody: 'Niemand wartet.',
  inAbout: (minutes) => (minutes < 1 ? 'jetzt' : `${f.number(minutes)} min`),
  place: (number, minutes) => `Auto ${number}, ${minutes}`,
  skip: 'Nicht da',
  skipLabel: (number) => `Auto ${number} ist nicht da: erst das nächste`,

  again: (number) => `Noch einmal: ${car(number)}`,
  cancel: 'Halt',
  cancelLabel: 'Halt: diese Fahrt zurücknehmen',

  notMine: 'Nicht meins',
  whose: (number) =>
    number === undefined ? 'Wessen Fahrt war das?' : `Keine Fahrt von ${car(number)}? Wessen war sie?`,
  isLabel: (number) => `Es war ${car(number)}`,
  moved: (number) => `Sie steht jetzt bei ${car(number)}.`,
  back: (number) => `Zurück zu ${car(number)}`,
  shut: 'Zurück',

  guess: 'Schätzen',
  guessed: 'Geschätzt',
  guessTitle: (number) =>
    number === undefined ? 'Wie viele Meter fährt es?' : `Wie viele Meter fährt ${car(number)}?`,
  guessHelp: 'Niemand sieht es, bevor die Fahrt vorbei ist.',
  badGuess: 'Tipp die Meter ein, 1 bis 9999.',
  guessPut: 'Das schätze ich',
  guessOff: (guess, off, guessedMore) =>
    off === '0'
      ? `Geschätzt ${guess} m: genau getroffen!`
      : `Geschätzt ${guess} m: Es fuhr ${off} m ${guessedMore ? 'weniger weit' : 'weiter'}.`,

  last: (number) => (number === undefined ? 'Letzte Fahrt' : `Auto ${number}, letzte Fahrt`),
  first: 'Die erste Fahrt.',
  best: 'Deine weiteste bisher!',
  level: 'So weit wie deine weiteste.',
  farthest: (metres) => `Deine weiteste: ${metres} m`,
  short: 'Weniger als eine Sekunde: Das war keine Fahrt.',
  dropped: 'Diese Fahrt zählt nicht.',

  road: 'Diese Fahrt, und die weiteste davor',
  roadEven: 'Diese Fahrt, und die weiteste davor gleichmäßig gefahren',
  now: 'jetzt',
  ghost: 'weiteste',

  changed: 'Etwas geändert',
  changedTitle: (number) => `Was ist neu an ${car(number)}?`,
  changedHelp: 'Ändere nur eine Sache: Dann weißt du, woran es lag.',
  freshPack: 'Frischer Pack',
  freshPackTitle: (number) => `Welcher Pack kommt in Auto ${number}?`,
  freshPackHelp: 'Die Nummer auf dem Pack. Lade nie Zellen, die nur für einmal gemacht sind.',
  packLabel: (pack) => `Pack ${f.number(pack)} kommt hinein`,
  chemistryTitle: 'Was für Zellen?',
  chemistry: {
    'nickel-metal-hydride': 'werden geladen',
    alkaline: 'Alkali, für einmal',
    'zinc-carbon': 'Zink, für einmal',
    lithium: 'Lithium, für einmal',
  },
  refit: 'Aus- und wieder eingebaut, gleich',
  refitHelp: 'Zeigt, wie viel das Einbauen ausmacht.',
  needsNetwork: 'Woraus das Auto besteht, ist noch nicht hier: Das Netz ist weg.',
  save: 'Speichern',
  saved: 'Notiert. Die nächsten Fahrten gehören dazu.',
  less: (what) => `${what}: weniger`,
  more: (what) => `${what}: mehr`,
  none: 'nicht notiert',
  parts: {
    gear: 'Getriebe',
    wheel: 'Rad',
    motor: 'Motor',
    cells: 'Zellen',
    pack: 'Pack',
    mass: 'Gewicht',
    tyres: 'Reifen',
    grease: 'Fett',
  },
  fields: {
    driving_teeth: 'Zähne am Motor',
    driven_teeth: 'Zähne an der Achse',
    wheel_mm: 'Raddurchmesser, mm',
    motor: 'Nummer auf dem Motor',
    cells: 'Zellen',
    pack: 'Nummer auf dem Pack',
    mass_g: 'Gewicht, g',
  },
  tyres: { none: 'keine Reifen', rubber: 'Gummi', foam: 'Schaum', silicone: 'Silikon' },
  grease: { none: 'trocken', 'thin-oil': 'dünnes Öl', oil: 'Öl', grease: 'Fett' },

  verdict: {
    title: 'Ist es schneller?',
    quicker: (change, low, high) => `Um ${change} % schneller (zwischen ${low} und ${high}).`,
    slower: (change, low, high) => `Um ${change} % langsamer (zwischen ${low} und ${high}).`,
    about: (metres, more, seconds) => `Etwa ${metres} m ${more ? 'mehr' : 'weniger'} in ${seconds} s.`,
    asFitted: 'So wie eingebaut: Bau es aus und wieder ein, um sicher zu sein.',
    more: (runs) => `Noch nicht zu sagen: ${f.plural(runs, { one: 'fahr noch einmal', other: 'fahr noch # Mal' })}.`,
    same: (runs) => `Gleich, soweit ${f.number(runs)} Fahrten es zeigen können.`,
    cannot: 'Diese Fahrten können es nicht sagen.',
    unfair: (why) => `Kein fairer Vergleich: ${why}`,
    why: {
      'two-changed': 'zwei Dinge geändert.',
      'other-pack': 'ein anderer Pack.',
      'not-noted': 'Niemand hat notiert, wie das Auto vorher war.',
      'other-bench': 'ein anderer Stand.',
      'other-length': 'Fahrten von anderer Dauer.',
      'other-day': 'ein anderer Nachmittag.',
      'in-blocks': 'eins nach dem anderen. Wechselt euch ab.',
    },
    before: 'vorher',
    after: 'jetzt',
    dots: (before = '', after = '') => `Vorher: ${before} m. Jetzt: ${after} m.`,
    next: (runs, state, refit) =>
      `Als Nächstes: Aufbau ${f.number(state)} ${refit ? 'neu einbauen' : 'fahren'}, ${f.plural(runs, { one: '1 Fahrt', other: '# Fahrten' })}.`,
    carIs: (number) => `Auto ${number} fährt`,
    benchIs: (number) => `Auf Stand ${number} fährt es`,
    farther: (who, change, low, high) => `${who} um ${change} % weiter (zwischen ${low} und ${high}).`,
    putOnAgain: 'Setz es noch einmal auf, um sicher zu sein.',
    nextOf: (who, runs) => `Als Nächstes: ${who}, ${f.plural(runs, { one: '1 Fahrt', other: '# Fahrten' })}.`,
    dotsOf: (one, metres, other, others) => `${one}: ${metres} m. ${other}: ${others} m.`,
    effect: {
      start: (better) => (better ? 'Es fährt schneller an.' : 'Es fährt langsamer an.'),
      top: (better) => (better ? 'Seine Spitze ist höher.' : 'Seine Spitze ist niedriger.'),
      fading: (better) => (better ? 'Es bleibt länger schnell.' : 'Es wird eher müde.'),
    },
    others: (n) =>
      `${f.plural(n, { one: 'Heute wäre noch 1 Paar', other: 'Heute wären noch # Paare' })} zu vergleichen: Von zwanzig Vergleichen sagt einer durch Zufall schneller oder langsamer.`,
  },

  children: 'Für Kinder',
  childrenOn: 'Leitung: halten',
  childrenHold: 'Leitung: Halte diese Taste zwei Sekunden, um die Kinderseite zu verlassen',
};
