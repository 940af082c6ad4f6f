import type { run as English } from '../en/run';
import { format as f } from './format';

/** Texts of a run's page, for officials and families alike. */
export const run: typeof English = {
  between: (low, high) =>
    `Die wahre Strecke liegt zwischen ${low} und ${high} m, in 95 von 100 Fahrten: Auf einer Seite können Impulse fehlen.`,
  untold: 'Wie weit diese Strecke danebenliegen kann, weiß niemand: Lies, was dem Stand aufgefallen ist.',
  title: (who) => `Fahrt von ${who}`,
  titleUnknown: 'Fahrt',
  loading: 'Der Server wird gefragt …',
  nobody: 'kein Auto',
  void: 'Diese Fahrt wurde mit ihrem Lauf verworfen. Sie zählt nicht.',
  waits: (why) => `Diese Fahrt wartet auf die Rennleitung: ${why}.`,
  countsNot: 'Diese Fahrt zählt nicht: Eine andere zählt, oder noch keine.',
  settingsChanged:
    'Als diese Fahrt gemessen wurde, war der Stand anders eingestellt. Die Kurve folgt den heutigen Einstellungen, die Zahlen den damaligen.',
  byHand: 'Diese Fahrt wurde von Hand gezählt, deshalb gibt es keine Kurve.',
  noCurve: 'Was der Sensor von dieser Fahrt sah, zeigt kein Tempo, deshalb gibt es keine Kurve.',

  penalty: (metres, less, result) => `Ihr Ergebnis ist ${result} m: ${metres} m weniger ${less} m Strafe.`,
  battery: 'Batterie davor',

  distance: 'Strecke',
  laps: 'Runden',
  mean: 'Tempo im Schnitt',
  top: 'Höchsttempo',
  full: 'Voll im Tempo nach',
  slows: 'Wird langsamer um',
  quickens: 'Wird schneller um',
  slowsNot: 'nichts, was sich sagen lässt',
  roller:
    'Das Tempo ist das der Rolle unter den Rädern: Es gibt keinen Fahrtwind, und das Auto bewegt sein eigenes Gewicht nicht.',
  fullMeans: (kmh) => `Voll im Tempo heißt: 95 von 100 Teilen des vollen Tempos, ${kmh} km/h, sind erreicht.`,
  slowsMeans:
    'Wie viel langsamer es wird, zeigt der Vergleich des ersten Drittels mit dem letzten, sobald es voll im Tempo ist: Die Batterie lässt nach, der Motor wird warm.',

  plotTitle: 'Tempo über der Zeit',
  plotSays: 'Wie schnell die Oberfläche der Rolle war, vom Start an.',
  time: 'Zeit seit dem Start',
  speed: 'Tempo',
  startMark: 'Start',
  firstMark: 'erste Drehung',
  fullMark: 'voll im Tempo',
  endMark: 'Ende',
  correction: { extra: 'ein Impuls zu viel weggelassen', bridged: 'ein fehlender Impuls ergänzt' },
  flags: 'Gut zu wissen über diese Fahrt',

  how: 'So entsteht die Strecke',
  counted: (turns) => `Die Rolle drehte sich ${turns}-mal.`,
  times: (mm, plusMinus, metres) =>
    `Jede Drehung ist auf der Oberfläche ${plusMinus ? `${mm} ± ${plusMinus}` : mm} mm lang, das macht ${metres} m.`,
  factor: (factor) => `Der Stand misst das ${factor}-fache der Wahrheit, deshalb wird die Strecke dadurch geteilt.`,
  compared: (factor, metres) =>
    `Von den Ständen dieses Tages misst er das ${factor}-fache des Schnitts, deshalb ist das Ergebnis die Strecke geteilt dadurch: ${metres} m.`,
  marks: (marks) => `Sein Sensor sieht ${f.plural(marks, { one: '# Marke', other: '# Marken' })} je Drehung.`,
  startPart: (turns, how) => `Vor dem ersten Impuls machte sie ${turns} einer Drehung: ${how}.`,
  endPart: (turns, how) => `Nach dem letzten Impuls machte sie ${turns} einer Drehung: ${how}.`,
  edge: {
    none: 'sie beginnt oder endet mit einem Impuls',
    between: 'abgelesen zwischen den Impulsen davor und danach',
    predicted: 'aus dem Tempo dort errechnet',
    bridged: 'aus dem Tempo dort errechnet, mit fehlenden Impulsen darin',
    due: 'ein Impuls war fällig und kam nicht',
    unknown: 'es kann alles sein, deshalb wurde ein halber Schritt genommen',
  },
  window: (length) => `Das Rennen dauerte ${length} ab dem Startsignal.`,
  noWindow: 'Es gab kein Startsignal: Gezählt wird vom ersten bis zum letzten Impuls.',
  wheel: (rpm, mm) =>
    `Räder von ${mm} mm machten etwa ${rpm} Drehungen in der Minute, wenn sie nicht durchrutschten. Durchrutschen sieht die Rolle nicht.`,
  causes: 'Woraus sein ± besteht',
  cause: 'Ursache',
  causeM: '± m',
  causeNames: {
    start: 'Teil einer Drehung am Start',
    end: 'Teil einer Drehung am Ende',
    gaps: 'Lücken ohne Impulse',
    resolution: 'Schritte der Uhr',
    clock: 'wie gleichmäßig die Uhr geht',
    delay: 'wie spät das Startsignal kam',
    circumference: 'einmal um die Rolle',
    factor: 'was der Stand zu viel oder zu wenig misst',
  },

  compare: 'Mit einer anderen Fahrt vergleichen',
  with: 'Darüberlegen',
  withHelp: 'Noch einmal dasselbe Auto, oder ein anderes.',
  withNone: 'nichts',
  sameCar: 'Dasselbe Auto',
  otherCars: 'Andere Fahrten',
  choice: (who, heat, distance) => `${who}: ${heat}, ${distance}`,
  bothTitle: (one, two) => `Tempo von ${one} und von ${two}`,
  apartTitle: (one, two) => `Wie viel schneller ${one} war als ${two}`,
  apartSays: (one) => `Über der Nulllinie war ${one} schneller.`,
  apart: 'Unterschied',
  less: (one, two) => `${one} weniger ${two}`,
  differences: (one, two) => `${one} und ${two} in Zahlen`,
  figure: 'Zahl',
  canTell: 'Lässt es sich sagen?',
  yes: 'ja',
  no: 'nein, zu knapp',
  tooClose: 'Zu knapp: Der Stand kann diese beiden Fahrten nicht unterscheiden.',
  further: (who, by) => `${who} fuhr ${by} weiter.`,
  quicker: (who, by) => `${who} war ${by} schneller.`,
  unequal: 'Die beiden Fahrten dauerten nicht gleich lang, deshalb wird das Tempo verglichen und nicht die Strecke.',
  sameBench:
    'Beide fuhren an einem Stand: Was man von seiner Rolle nicht genau weiß, verfälscht beide gleich und verwischt den Unterschied nicht.',
  otherBench: 'Sie fuhren an zwei Ständen, und was man von ihren Rollen nicht genau weiß, steckt im ±.',
  factorsIn: 'Was die Stände gemessen haben, wurde berichtigt wie die Ergebnisse.',
  threeRuns:
    'Das unterscheidet zwei Fahrten, nicht zwei Autos: Kein Auto fährt zweimal gleich. Drei Fahrten von jedem sagen mehr.',
};
