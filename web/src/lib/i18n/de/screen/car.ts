import type { car as English } from '../../en/screen/car';
import { format as f } from '../format';

/** A child's sheet: its own numbers, the sums behind them, and an experiment. */
export const car: typeof English = {
  distance: 'Strecke',
  lapCount: 'Runden',
  result: (metres) => `Ergebnis ${metres} m`,
  less: (metres, penalty, result) => `Es gab eine Strafe: ${metres} m − ${penalty} m = ${result} m ist mein Ergebnis.`,
  title: (who) => `Meine Zahlen: ${who}`,
  link: (who) => `Alle Zahlen von ${who}`,
  seen: 'Die Zahlen eines Autos, wie sie entstehen, und was du als Nächstes ausprobieren kannst.',
  unknown: 'Dieses Auto gibt es nicht',
  unknownSays: 'Dieser Renntag hat kein solches Auto. Wähle eines aus allen Autos.',
  pencil: 'zum Ausfüllen',

  next: 'Was als Nächstes kommt',
  nextNow: (bench) => (bench === undefined ? 'Jetzt: Geh zu den Ständen.' : `Jetzt: Geh zu Stand ${f.number(bench)}.`),
  nextRacing: 'Es fährt gerade.',
  nextAbout: (time) => `etwa ${time}`,
  nextSoon: 'bald',
  nextNotBefore: (time) => `nicht vor ${time}`,
  nextAhead: (n) => (n === 0 ? 'der allernächste Lauf' : f.plural(n, { one: '1 Lauf davor', other: '# Läufe davor' })),
  nextSays: 'Es kann später werden. Ein Aufruf in der Halle geht vor.',
  nextNone: 'Für dieses Auto ist gerade kein Lauf ausgelost. Die nächsten kommen, wenn Ergebnisse da sind.',

  races: 'Meine Rennen',
  racesIn: (division) => `Meine Rennen, ${division}`,
  practised: (number) => `Übung von Auto ${number}, mit zwei Aufbauten von Hand verglichen`,
  noRaces: 'Noch zählt kein Rennen. Die ersten Zahlen kommen nach dem ersten Rennen.',
  race: 'Rennen',
  bench: 'Stand',
  turns: 'Drehungen der Rolle',
  seconds: 'Sekunden',
  kmhHead: 'km/h',
  battery: 'Batterie, V',
  batterySays: 'Batterie: wie viel Volt der Pack in Ruhe hatte, als er zuletzt vor dem Rennen gemessen wurde.',

  reckon: 'Rechne selbst nach',
  reckonSays: (race) =>
    `Gerechnet mit ${race}; mach es noch einmal mit einem anderen Rennen oder mit den Zahlen eines anderen Kindes.`,
  rpm: 'Drehungen ÷ Sekunden × 60: So oft dreht sich die Rolle in einer Minute.',
  surface: 'Drehungen in einer Minute × einmal um die Rolle: So weit kommt ihre Oberfläche in einer Minute.',
  far: 'Drehungen × einmal um die Rolle: So weit fuhr mein Auto.',
  kmh: 'Meter in einer Minute × 60 ÷ 1000 sind Kilometer in einer Stunde.',
  wheel: 'Wie oft drehte sich mein Rad in einer Minute? Einmal herum ist 3,1416 × seine Breite.',
  wheelUnknown: 'Miss quer über dein Rad in mm.',
  motor:
    'Wie oft drehte sich mein Motor? Zähl die Zähne: Übersetzung = Zähne am Rad der Achse ÷ Zähne am Rad des Motors.',
  motorHow: 'Drehungen des Rads × Übersetzung = Drehungen des Motors',
  perMinute: 'in der Minute',
  factor: (factor) =>
    `Dieser Stand misst das ${factor}-fache der Wahrheit, deshalb werden Tempo und Strecke dadurch geteilt.`,
  slip: 'Rad und Rolle sind nur dann gleich schnell, wenn das Rad nicht durchrutscht. Durchrutschen sieht die Rolle nicht.',
  laps: (metres, lap, laps) => `Runden: ${metres} m ÷ ${lap} m je Runde = ${laps} ganze Runden.`,

  picture: {
    roller: (mm) => `Rolle: ${mm} mm breit`,
    wheel: (mm) => `Rad: ${mm} mm breit`,
    wheelUnknown: 'Rad: wie viele mm breit?',
    around: (mm) => `einmal herum: ${mm} mm`,
    turns: (turns, seconds) => `Drehungen in ${seconds} s: ${turns}`,
    turnsAMinute: (turns) => `Drehungen in einer Minute: ${turns}`,
  },

  foot: {
    sheet: (sheet, meet, day) => `${sheet} · ${meet} · ${day}`,
    page: (code) => `Prüfcode ${code} · Seite `,
    pageOf: ' von ',
  },

  tryIt: 'Probier es aus',
  trySays:
    'Erst raten. Ändere nur eine Sache. Fahr dreimal davor und dreimal danach, jedes Mal mit einem gleich vollen Pack.',
  change: 'Ich ändere',
  predict: 'Ich rate, es fährt',
  because: 'weiter oder weniger weit, weil',
  tryRun: (n) => `Fahrt ${f.number(n)}, m`,
  middle: 'Mittlere, m',
  scatter: 'Größte weniger kleinste, m',
  before: 'Davor',
  after: 'Danach',
  compare: 'Die mittleren unterscheiden sich um',
  moreThanScatter:
    'Ist das mehr, als sich die Fahrten einer Zeile untereinander unterscheiden? Wenn nicht, fahr öfter, bevor du es glaubst.',

  cannot: 'Was ein Stand nicht zeigen kann',
  cannotSays: [
    'Auf den Rollen gibt es keinen Fahrtwind, deshalb ist ein Auto auf einer Bahn langsamer.',
    'Das Auto steht auf der Stelle: Sein eigenes Gewicht muss nicht in Fahrt kommen, deshalb verliert ein schweres Auto hier weniger als auf einer Bahn.',
    'Ob ein Rad auf der Rolle durchrutscht.',
  ],
  toClass: (division) => `Die Zahlen aller Autos von ${division}, ohne Namen`,

  all: {
    title: 'Alle Autos',
    seen: 'Jedes Auto des Renntags. Finde deins und sieh, wann es fährt und wie es lief.',
    find: 'Ein Auto finden',
    findHelp: 'Nach seiner Startnummer oder dem Spitznamen auf den Anzeigen.',
    open: 'Öffnen',
    none: 'Noch ist kein Auto angemeldet.',
    noSuch:
      'Kein Auto hat diese Nummer oder diesen Spitznamen. Wer keinen Spitznamen auf den Anzeigen hat, wird über die Nummer auf dem Auto gefunden.',
    count: (cars) => f.plural(cars, { one: '# Auto gefunden', other: '# Autos gefunden' }),
    withdrawn: 'fährt nicht mehr mit',
  },

  edition: { title: 'Für wen', young: 'Für 6 bis 10', older: 'Für 11 bis 16' },

  young: {
    races: 'Meine Rennen',
    whole: 'Alle Zahlen sind auf ganze Meter gerundet.',
    penalty: (metres) => `mit der Strafe: ${metres} m`,
    picture: {
      title: 'Wie der Stand zählt',
      label: 'Ein Auto steht mit seinen Rädern auf zwei Rollen. Ein Auge sieht auf eine Marke an einer Rolle.',
      wheel: 'Rad',
      roller: 'Rolle',
      eye: 'Auge',
      says: 'Das Rad dreht die Rolle. Die Rolle hat eine Marke. Jedes Mal, wenn das Auge die Marke sieht, war die Rolle einmal herum.',
    },
    sum: {
      title: 'Meine Rechnung',
      fact: (race, metres, seconds) => `${race}: Mein Auto fuhr ${metres} m in ${seconds} Sekunden.`,
      question: 'Wie viele Meter sind das in 1 Sekunde?',
      answer: 'Die Antwort',
      worked: (metres, seconds, each, left) =>
        `${metres} ÷ ${seconds} = ${each}${left === undefined ? '.' : ` Rest ${left}.`}`,
      nearness: {
        exactly: (each) => `Das sind ${each} m in jeder Sekunde.`,
        more: (each) => `Das sind etwas mehr als ${each} m in jeder Sekunde.`,
        half: (each, next) => `Das liegt in der Mitte zwischen ${each} m und ${next} m in jeder Sekunde.`,
        nearly: (_, next) => `Das sind fast ${next} m in jeder Sekunde.`,
      },
    },
    tryOne: {
      title: 'Eine Sache zum Probieren',
      what: 'Wisch die Räder mit einem trockenen Tuch ab. Ändere sonst nichts.',
      guess: 'Schätz zuerst. Es fährt:',
      guesses: ['weiter', 'gleich weit', 'weniger weit'],
      before: (metres) => `Vorher: ${metres} m.`,
      first: 'Jetzt, Fahrt 1:',
      second: 'Fahrt 2:',
      look: 'Wie weit liegen die beiden neuen Zahlen auseinander? Nur wenn die alte Zahl viel weiter weg liegt, können es die Räder sein. Wenn nicht, weißt du es noch nicht: Fahr noch zweimal.',
    },
  },

  class: {
    title: (division) => `Alle Autos von ${division}`,
    seen: 'Alle Zahlen ohne Namen, um herauszufinden, was ein Auto schnell macht.',
    none: 'Noch hat kein Stand ein Rennen gezählt. Die Zahlen kommen nach dem ersten.',
    plot: 'Tempo im Schnitt nach Rennen',
    plotSays: 'Jeder Punkt ist ein Auto in einem Rennen. Wie weit sie auseinanderliegen, das gibt es zu erklären.',
    voltsPlot: 'Tempo im Schnitt nach Volt der Batterie',
    voltsSays:
      'Jeder Punkt ist eine Fahrt, vor der die Batterie gemessen wurde. Macht eine vollere Batterie ein schnelleres Auto, oder ist es etwas anderes?',
    race: 'Rennen des Autos',
    speed: 'Tempo im Schnitt',
    all: 'Alle Autos',
    table: 'Jedes Auto in einer Zeile, das langsamste zuerst',
    tableSays:
      'Schreib in die leeren Spalten, was du von den Autos weißt, und finde heraus, was mit dem Tempo zusammenhängt.',
    corrected: 'Das Tempo ist für die Stände berichtigt, wie die Ergebnisse.',
    nth: (n) => `Rennen ${f.number(n)}, km/h`,
    middle: 'Mittleres, km/h',
    gear: 'Übersetzung',
    volts: 'Volt der Batterie',
    wheel: 'Rad, mm',
    paper: 'Tempo gegen',
    paperSays: 'Zeichne für jedes Auto ein Kreuz: sein Tempo nach oben, Übersetzung oder Volt nach rechts.',
    half: (low, high, cars) =>
      `${f.plural(cars, { one: '# Auto', other: '# Autos' })}; die Hälfte liegt zwischen ${low} und ${high} km/h.`,
  },
};
