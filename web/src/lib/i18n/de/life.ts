import type { life as English } from '../en/life';
import { format as f } from './format';

/** Ein Auto über seine Übung, die Übungswand und die Seite der Leitung. */
export const life: typeof English = {
  title: (number) => `Übung von Auto ${number}`,
  link: (number) => `Alle Übung von Auto ${number}`,
  seen: 'Die Übungsfahrten eines Autos, was an ihm geändert wurde und wie weit es fuhr.',
  none: 'Noch keine Übungsfahrt dieses Autos.',
  runs: 'Alle Fahrten, die älteste zuerst',
  plotLabel: (runs, low, high, bands) =>
    `${f.plural(runs, { one: '1 Fahrt', other: '# Fahrten' })} zwischen ${low} und ${high} km/h im Ganzen, in ${f.plural(bands, { one: '1 Reihe', other: '# Reihen' })} gleicher Fahrten. In der Liste darunter stehen alle.`,
  later: 'später',
  best: (metres, seconds) => `Das Dreieck ist die weiteste: ${metres} m in ${seconds} s.`,
  means: 'Jeder Punkt ist eine Fahrt: oben ist schneller. Jeder Streifen ist, woraus das Auto bestand.',
  states: 'Woraus es bestand',
  before: 'nicht notiert',
  state: (n) => `Aufbau ${f.number(n)}`,
  nothing: 'Nichts wurde notiert.',
  changed: (what) => `Neu: ${what}.`,
  late: (build, noted, came, runs) =>
    `${build} wurde um ${noted} auf einem Handy ohne Netz notiert und kam um ${came} hier an. ${f.plural(runs, { one: '1 Fahrt', other: '# Fahrten' })} dazwischen ${runs === 1 ? 'zählt' : 'zählen'} dafür.`,
  notedLater: 'später notiert',
  runCount: (n) => f.plural(n, { one: '1 Fahrt', other: '# Fahrten' }),
  beside: {
    title: 'Welches fährt weiter?',
    cars: 'Neben einem anderen Auto',
    carsHelp: 'Wechselt euch an einem Stand ab: ein Auto, dann das andere, jedes viermal.',
    benches: 'Dieses Auto an zwei Ständen',
    benchesHelp: 'Wechsle ab: ein Stand, dann der andere, jeder viermal. Zwei Stände zeigen nie ganz das Gleiche.',
    car: (number) => `Auto ${number}`,
    bench: (number) => `Stand ${number}`,
    pair: (one, other) => `Stand ${one} und ${other}`,
  },
  guesses: 'Geschätzt',
  guessesOff: (metres) => `Die letzten Schätzungen lagen um ${metres} m daneben.`,
  all: 'Jede Fahrt, die neueste zuerst',
  seconds: 'Sekunden',
  guess: 'Geschätzt, m',
  madeOf: 'Aufbau',
  card: 'Taschenkarte',
  cardSays: 'Hier stehen meine Fahrten:',
  cardCare: 'Für die Tasche: nichts an einer Schnur nahe bei Rollen.',
  scan: (number) => `Die Seite von Auto ${number}`,

  second: {
    title: 'Von Hand verglichen',
    builds: (before, after) => `Vorher: ${before}. Jetzt: ${after}.`,
    meanMark: 'Mittel',
    sums: 'Die Rechnungen',
    meanBefore: 'Das Mittel vorher: alle Meter zusammen, auf die Fahrten verteilt.',
    meanAfter: 'Das Mittel jetzt.',
    more: 'Wie viel mehr, in Metern und in Prozent des Mittels von vorher.',
    apart: 'Wie weit gleiche Fahrten auseinander liegen: die weiteste weniger die kürzeste.',
    look: (more, apart, larger) =>
      larger
        ? `Die Mittel unterscheiden sich um ${more} m, gleiche Fahrten um höchstens ${apart} m: Die Änderung ist größer als die Streuung.`
        : `Die Mittel unterscheiden sich um ${more} m, gleiche Fahrten um bis zu ${apart} m: Schon die Streuung allein könnte so aussehen.`,
    fitted: (drift, change, low, high) =>
      `Die Antwort oben kennt auch die Reihenfolge der Fahrten: Von einer Fahrt zur nächsten änderte sich das Auto von selbst um ${drift} %. Ohne das beträgt die Änderung ${change} %, am ehesten zwischen ${low} und ${high} %.`,
    nought: 'Auch gar keine Änderung liegt dazwischen: So wenige Fahrten zeigen sie noch nicht.',
    otherwiseTitle: 'Was auch anders hätte sein können',
    otherwise: {
      fitted:
        'Ein Aufbau wurde nur einmal eingebaut: Neu eingebaut laufen dieselben Teile ein wenig anders. Nimm sie heraus und bau sie noch einmal ein.',
      order:
        'Die Fahrten stehen fast alle vorher im einen und nachher im anderen Aufbau: Was sich von selbst ändert, sieht dann aus wie die Änderung. Geh noch einmal zum ersten Aufbau zurück.',
      others: (n) =>
        `${f.plural(n, { one: '1 anderes Paar', other: '# andere Paare' })} von Aufbauten hätte man an dem Tag vergleichen können: Einer von zwanzig Vergleichen sagt aus Zufall schneller oder langsamer.`,
      pack: 'Der Pack wurde müde oder ruhte, und der Motor wurde warm: Eine gerade Linie nimmt das meiste davon heraus, nicht alles.',
      hands: 'Das Auto wurde anders gehalten oder losgelassen, oder es saß anders auf den Rollen.',
      chance: 'Zufall: Ein solcher Bereich verfehlt die wahre Änderung etwa einmal von zwanzig Malen.',
      track:
        'Die Rolle zeigt vielleicht etwas zu viel oder zu wenig: Das tut sie bei beiden Aufbauten gleich. Auf einer Bahn ist Luft wegzuschieben, hier nicht.',
    },
  },
  classLink: 'Alle Autos in einem Bild',
  classPlot: {
    title: 'Alle Autos in einem Bild',
    seen: 'Woraus die Autos bestehen und wie schnell sie sind. Kein Punkt sagt, wem er gehört.',
    which: 'Welche Fahrten',
    all: 'Alle Nachmittage',
    today: 'Nur heute',
    save: 'Als Tabelle sichern',
    few: (cars, least) =>
      `${f.plural(cars, { one: '1 Auto hat', other: '# Autos haben' })} Fahrten und eine Notiz, woraus es besteht. Das Bild beginnt mit ${f.number(least)}: Bei weniger führte jeder Punkt zu seinem Auto.`,
    count: (cars, points) =>
      `${f.plural(points, { one: '1 Punkt', other: '# Punkte' })} von ${f.plural(cars, { one: '1 Auto', other: '# Autos' })}: jeder ein Auto, wie es einmal gebaut war, mit dem Schnitt seiner Fahrten.`,
    alike: 'Noch sind alle Autos gleich gebaut: Ändere etwas an einem, dann beginnt das Bild.',
    plots: {
      ratio: {
        title: 'Getriebe und Tempo',
        says: 'Nach rechts dreht sich der Motor öfter, während sich die Räder einmal drehen.',
        axis: 'Drehungen des Motors auf eine der Achse',
      },
      volts: {
        title: 'Zellen und Tempo',
        says: 'Nach der Zahl der Zellen: 1,2 V je Zelle, die wieder geladen wird, sonst 1,5 V.',
        axis: 'Volt',
      },
      wheel_mm: { title: 'Rad und Tempo', says: 'Nach rechts werden die Räder größer.', axis: 'Rad' },
      mass_g: { title: 'Gewicht und Tempo', says: 'Nach rechts werden die Autos schwerer.', axis: 'Gewicht' },
    },
    speed: 'Tempo',
    point: 'Ein Auto, wie es einmal gebaut war',
    ask: 'Deck eine Hälfte eines Bildes mit der Hand zu. Könntest du die andere Hälfte raten?',
    table: 'Jeder Punkt',
    code: 'Buchstabe',
    runs: 'Fahrten',
    rest: (points) =>
      `${f.plural(points, { one: '1 weiterer Punkt steht', other: '# weitere Punkte stehen' })} in der Tabelle zum Sichern.`,
    cannot:
      'Autos unterscheiden sich in mehr als einem, darum zeigt ein Bild, was zusammengeht, und nicht, woran es liegt. Auf Rollen ist keine Luft wegzuschieben: Auf einer Bahn kann es anders sein.',
  },

  wall: {
    title: 'Übung heute',
    waits: (number) => `wartet auf Auto ${number}`,
    free: 'frei',
    next: 'Wer der Nächste ist',
    nobody: 'Niemand wartet.',
    cars: 'Jedes Auto gegen sich selbst',
    carsSays: 'Nach Nummer. Niemand ist hier Erster.',
    last: 'letzte',
    farthest: 'weiteste',
    runs: 'Fahrten',
    together: 'Zusammen gefahren',
    togetherOf: (metres, goal) => `${metres} m von ${goal} m`,
    togetherSoFar: (metres) => `${metres} m`,
    best: 'seine weiteste bisher',
  },
};
