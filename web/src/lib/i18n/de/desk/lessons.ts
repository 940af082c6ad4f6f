import type { lessons as English } from '../../en/desk/lessons';
import { format as f } from '../format';

const fahrten = (n: number) => f.plural(n, { one: '1 Fahrt', other: '# Fahrten' });
const autos = (n: number) => f.plural(n, { one: '1 Auto', other: '# Autos' });

/** Drei fertige Stunden, für die Leitung. */
export const lessons: typeof English = {
  title: 'Drei Stunden zu 45 Minuten',
  over: 'Übung',
  back: 'Zurück zur Übung',
  print: 'Drucken, je eine Seite',
  lead: 'Jede beginnt mit einer Frage und endet mit einem Gespräch über die Punkte. Sie kommen in dieser Reihenfolge: Wer nicht gesehen hat, wie Fahrten streuen, kann nicht sagen, dass etwas schneller ist.',
  children: 'Kinder',
  benches: 'Stände',
  seconds: 'Sekunden je Fahrt',
  nth: (n, title) => `Stunde ${f.number(n)}: ${title}`,
  fits: (children, benches, seconds) =>
    `Kinder: ${children}. Stände: ${benches}. Fahrten von ${seconds} s, und 30 s, um die Autos zu wechseln.`,
  share: {
    1: (n, each) => `Jedes Kind hat ein Auto: ${autos(n)}, bis zu ${fahrten(each)} je Auto.`,
    2: (n, each) =>
      `Zu zweit, eines fährt und eines schreibt, und nach jeder Reihe wird getauscht: ${autos(n)}, bis zu ${fahrten(each)} je Auto.`,
    3: (n, each) =>
      `Zu dritt: Eines fährt, eines schreibt, eines sieht nach dem Auto; nach jeder Reihe wird getauscht: ${autos(n)}, bis zu ${fahrten(each)} je Auto.`,
    4: (n, each) =>
      `Zu viert, zwei am Stand und zwei am Tisch; nach jeder Reihe wird getauscht: ${autos(n)}, bis zu ${fahrten(each)} je Auto.`,
  },
  tooMany:
    'Zu viele für eine halbe Stunde, auch zu viert an einem Auto: Nimm kürzere Fahrten, einen Stand mehr oder zwei Gruppen.',
  need: 'Du brauchst:',
  minutes: (n) => `${f.number(n)} min`,
  steps: { ask: 'Fragen', guess: 'Schätzen', bench: 'Am Stand', talk: 'Über die Punkte sprechen' },
  expect: 'Was zu erwarten ist',
  own: (degrees) => `Die Zahl ist die eures Vereins, aus gleichen Fahrten (${degrees} Freiheitsgrade).`,
  usual: 'Die Zahl ist die übliche; sobald euer Verein einige gleiche Fahrten hat, ist es die eigene.',
  rough: (percent) =>
    `Gleiche Fahrten unterscheiden sich um ${percent} %: so viel, dass eine halbe Stunde eine Änderung von 1 % nicht zeigen kann. Sieh zuerst nach, was sich unterscheidet: ein loses Rad, ein müder Pack, ein Auto, das anders gehalten wird.`,
  care: 'Vorsicht',
  cares: [
    'Finger, Haare, Ärmel und Schnüre bleiben weg von Rollen und Rädern. Nichts hängt um einen Hals.',
    'Dieses Programm kann keine Rolle und keinen Motor anhalten: Wer den Stand bedient, weiß, wie das geht, und sagt vorher „Hände weg“.',
    'Bei Kindern unter acht steht an jedem Stand, der läuft, ein Erwachsener.',
    'Motoren und Zellen werden heiß: Lass sie nach einigen Fahrten ruhen. Einen Pack, der heiß oder dick ist oder ausläuft, legt ein Erwachsener beiseite.',
    'Nur Packs, die dafür gemacht sind, werden geladen, von einem Erwachsenen und wie der Hersteller es sagt. Zellen für einmal werden nie geladen.',
    'Die Regeln eures Hauses und derer, die dort die Verantwortung haben, gehen dieser Seite vor.',
  ],
  lessons: {
    sure: {
      title: 'Wie sicher ist eine Zahl?',
      need: 'für jede Gruppe ein Auto, das gut läuft, nichts zu ändern, Papier und Stift.',
      ask: ['„Dein Auto fuhr 120 m. Es fährt noch einmal, und niemand ändert etwas. Wie weit kommt es?“'],
      guess: ['Jedes Kind schreibt auf, wie weit die erste Fahrt geht, und nach vier Fahrten, wie weit die fünfte.'],
      bench: [
        'Vier Fahrten mit jedem Auto, als Punkte auf einer Linie. Nichts wird geändert, niemand hilft, das Auto wird gleich losgelassen.',
        'Dann die fünfte, gegen die Schätzung.',
      ],
      talk: [
        '„Welche Fahrt ist die richtige?“ Keine: Alle fünf sind das Auto.',
        '„Wenn das Auto eines Freundes einen Meter weiter kommt als deines, ist es schneller?“ Sieh, wie weit deine eigenen Punkte auseinander liegen.',
      ],
      expect: (inside, of, percent) =>
        `Gleiche Fahrten unterscheiden sich oft um etwa ${percent} %. Die fünfte Fahrt liegt bei etwa ${inside} von ${of} Autos zwischen der kürzesten und der weitesten der ersten vier: bei drei von fünf, wie sehr ein Auto auch streut.`,
    },
    pack: {
      title: 'Frischer Pack oder müder Pack?',
      need: 'für jedes Auto einen Pack, der eine Weile gelaufen ist, und einen frischen, beide mit ihrer Nummer darauf.',
      ask: ['„Merkt ein Auto, wenn sein Pack müde wird? Sähest du es in 15 Sekunden?“'],
      guess: ['Jedes Kind schreibt auf, wie viele Meter der frische Pack mehr bringt.'],
      bench: [
        'Müde, frisch, frisch, müde: je eine Fahrt. Drück jedes Mal „Frischer Pack“ und die Nummer des Packs.',
        'Schreib jede als Punkt auf, müde unten und frisch oben.',
      ],
      talk: [
        '„Liegen die zwei Reihen auseinander?“ Wenn ja, muss niemand rechnen.',
        '„Warum müde zuerst und zuletzt?“ Damit das, was sich von selbst ändert, etwa ein warmer Motor, in beiden steckt.',
        'Sieh dir die Kurve einer Fahrt an: Fällt sie zum Ende hin?',
      ],
      expect: (percent) =>
        `Der frische Pack fährt meist einige Meter von hundert weiter (übliche Erfahrung), während gleiche Fahrten sich um etwa ${percent} % unterscheiden: Die Reihen der Punkte liegen bei fast allen Autos auseinander. Ein Pack, der ruhte, erholt sich etwas.`,
    },
    gear: {
      title: 'Ein Getriebe raten',
      need: 'zwei Getriebe für jedes Auto, oder für 7 bis 9 Jahre Räder in zwei Größen; oder zwei fertige Autos, wo das Wechseln zu lange dauert.',
      ask: ['„Der Motor dreht sich viermal, während die Räder sich einmal drehen. Und wenn er sich dreimal drehte?“'],
      guess: ['Jedes Kind schreibt auf, welches Getriebe weiter kommt, und um wie viel.'],
      bench: [
        'Zwei Fahrten mit dem ersten Getriebe, zwei mit dem zweiten; wer Zeit hat, macht weiter mit zweitem, zweitem, erstem, erstem.',
        'Wechselt am Tisch, während andere fahren, und drückt „Etwas geändert“: nur eine Sache.',
      ],
      talk: [
        '„Weiter, gleich, oder können wir es noch nicht sagen?“ Alle drei sind gute Antworten.',
        '„Mit dem einen kommt es schneller los, mit dem anderen ist es am Ende schneller: Welches war deines?“ Seht euch die Kurven an.',
      ],
      expect: (percent, needed) =>
        `Gleiche Fahrten unterscheiden sich um etwa ${percent} %: Um eine Änderung von 1 % viermal von fünf zu sehen, braucht es etwa ${needed} Fahrten mit jedem Getriebe. Ein Schritt an Zähnen macht meist mehr. Auch neu einzubauen streut, darum ist „so, wie eingebaut“ das ehrliche Wort.`,
    },
  },

  home: {
    title: 'Nach dem Nachmittag',
    print: 'Alles drucken',
    lead: 'Eine Seite für dich, dann eine halbe für jede Familie, zwei auf einem Blatt. Eine Familie liest nur die Nummer ihres Autos: keinen Namen, keinen Platz und nichts von anderen Autos. Den Namen schreibst du von Hand, wenn die Familie es will.',
    leader: (day, time) => `Für die Leitung: ${day}, ab ${time}`,
    bench: (there, driven, lost) =>
      `Die Stände waren ${there} Minuten da; Autos fuhren ${driven}, und ${lost} gingen zwischen Fahrten verloren, über je eine Minute hinaus.`,
    fewest: (cars) => `Beim nächsten Mal zuerst: Auto ${cars}.`,
    answers: 'Was die Änderungen ergaben',
    car: (number) => `Auto ${number}`,
    packs: (packs) => `Benutzte Packs: ${packs}. Ein Erwachsener sieht sie vor dem nächsten Mal an.`,
    next: 'Abgenutzt oder zu besorgen:',
    afternoon: (day) => `Ein Übungsnachmittag am ${day}`,
    name: 'Name, wenn du magst:',
    drove: (n) => `Dein Auto machte ${fahrten(n)}.`,
    between: (least, most, seconds) => `In ${seconds} s kam es zwischen ${least} und ${most} m weit.`,
    change: (before, after) => `${before} → ${after}`,
    tried: (what) => `Versucht: ${what}.`,
    same: 'Gleich, so weit diese Fahrten es zeigen.',
    notYet: 'Diese Fahrten können es noch nicht sagen.',
    nothingTried: 'Nichts wurde an ihm geändert: Seine Fahrten zeigen, wie sehr ein Auto von sich selbst abweicht.',
    means:
      '„Zwischen“ sagt, wo die wahre Änderung am ehesten liegt, so wie die Fahrten des Autos streuen. Auf Rollen ist kein Wind: Auf einer Bahn kann es anders sein.',
    guessed: (n, off) =>
      `${f.plural(n, { one: '1 Schätzung', other: '# Schätzungen' })} vor einer Fahrt, im Ganzen um ${off} m daneben.`,
    ask: 'Frag dein Kind:',
    questions: [
      'Woran merkst du, dass zwei Fahrten wirklich verschieden sind?',
      'Warum kommt dasselbe Auto nicht jedes Mal gleich weit?',
      'Was würdest du zuerst ändern, und was würdest du schätzen?',
    ],
    questionsChanged: [
      'Was hast du geändert, und was hast du erwartet?',
      'Wie würdest du sicher sein, dass es an der Änderung lag?',
      'Was würdest du als Nächstes versuchen, und mit wie vielen Fahrten?',
    ],
  },
};
