import type { compared as English } from '../../en/desk/compared';
import { format as f } from '../format';

/** percent writes a relative figure in per cent, as exactly as such figures are known. */
const percent = (relative: number) => `${f.number(100 * relative, Math.abs(relative) < 0.0995 ? 2 : 0)} %`;

/** The page of the benches compared. */
export const compared: typeof English = {
  title: 'Stände im Vergleich',
  says: 'Autos, die an mehreren Ständen fahren, zeigen, wie sich die Stände unterscheiden. Verglichen werden alle Fahrten des Tages und die Vergleichsfahrten nach ihrem Durchschnittstempo. Was alle Autos von Durchgang zu Durchgang verlieren oder gewinnen, weil Batterien nachlassen, ist herausgerechnet.',
  none: 'Noch gibt es nichts zu vergleichen: Fahrt Rennen, oder macht eine Vergleichsmessung.',
  from: (c) =>
    `${f.plural(c.runs, { one: 'Eine Fahrt', other: '# Fahrten' })} von ${f.plural(c.cars, { one: 'einem Auto', other: '# Autos' })} an ${f.plural(c.benches.filter((b) => b.runs > 0).length, { one: 'einem Stand', other: '# Ständen' })}.`,
  sinceCheck: (n) =>
    `Messung ${f.number(n)} ergab, dass sich ein Stand verstellt hat, er ist also ein anderer: Verglichen wird nur, was seither kam.`,
  print: 'Drucken',

  now: 'Was getan werden kann',
  policy: {
    report: 'Die Regeln dieses Renntags sagen: nur sagen. Die Unterschiede werden gezeigt, sonst folgt nichts.',
    correct:
      'Die Regeln dieses Renntags sagen: Ergebnisse berichtigen. Die Rennleitung übernimmt die Faktoren zwischen zwei Läufen. Ergebnisse, die noch nicht offiziell sind, werden von da an durch sie geteilt; offizielle bleiben, wie sie sind.',
    'take-out': 'Die Regeln dieses Renntags sagen: einen Stand, der nicht übereinstimmt, herausnehmen.',
  },
  equal:
    'Die Stände unterscheiden sich nicht mehr, als der Zufall ergibt: Berichtigen machte die Ergebnisse schlechter, nicht besser.',
  differ: 'Die Stände unterscheiden sich mehr, als der Zufall ergibt.',
  inForce: (set) =>
    `Faktoren aus ${f.plural(set.runs, { one: 'einer Fahrt', other: '# Fahrten' })} gelten seit ${f.time(set.adopted)}.`,
  newer: 'Der Vergleich hat inzwischen andere Faktoren.',
  adopt: 'Faktoren übernehmen',
  adoptAgain: 'Neue Faktoren übernehmen',
  adoptTitle: 'Faktoren der Stände übernehmen',
  adoptSays:
    'Ergebnisse, die noch nicht offiziell sind, werden durch diese Faktoren geteilt; ausgehängte werden neu ausgehängt, mit neuer Einspruchsfrist. Beide Werte werden aufgehoben und gezeigt. Offizielle Ergebnisse bleiben.',
  withdraw: 'Faktoren zurücknehmen',
  withdrawTitle: 'Faktoren zurücknehmen',
  withdrawSays:
    'Ergebnisse, die noch nicht offiziell sind, zählen wie gemessen. Durchgänge, die mit den Faktoren abgeschlossen wurden, behalten sie.',
  takeOut: (n) => `Stand ${f.number(n)} herausnehmen`,
  allAgree: 'Alle Stände, die sich beurteilen lassen, stimmen überein: Es gibt nichts herauszunehmen.',
  nothing: 'Es ist nichts zu tun.',
  factorsNow: 'Geltende Faktoren',
  factorsOffer: 'Faktoren zum Übernehmen',
  factor: 'Faktor',
  uncertainty: 'Standardunsicherheit',

  factors: 'Wie weit jeder Stand danebenliegt',
  factorsSays: 'Anzeige durch das Mittel aller Stände. Die Linie zeigt, wo der wahre Wert 95-mal von 100 liegt.',
  offAxis: 'neben dem Mittel der Stände, %',
  mean: 'Mittel der Stände',
  bench: 'Stand',
  off: 'Daneben, %',
  low: 'Von, %',
  high: 'Bis, %',
  unknown: 'nicht bekannt',

  spread: 'Wie gut sich Fahrten wiederholen',
  repeatability: 'Wiederholen',
  repeatabilityHelp: 'Standardabweichung der Fahrten eines Autos an einem Stand',
  between: 'Zwischen Ständen',
  betweenHelp: 'Standardabweichung der Höhen der Stände selbst',
  reproducibility: 'Über Stände hinweg',
  reproducibilityHelp: 'Standardabweichung der Fahrten eines Autos an verschiedenen Ständen',
  percent,

  h: 'Höhen nebeneinander (h)',
  hSays:
    'Jenseits der äußeren Linien ist eine Höhe unter gleichen Ständen seltener als 1 von 100, jenseits der inneren als 5 von 100.',
  hAxis: 'h',
  k: 'Streuung nebeneinander (k)',
  kSays:
    'Jenseits der äußeren Linie ist die Streuung eines Stands unter gleichen seltener als 1 von 100, jenseits der inneren als 5 von 100.',
  kAxis: 'k',
  five: '5 %',
  one: '1 %',
  beyond: 'Jenseits',
  beyondNone: 'keiner Linie',
  pictureOf: (title, lines) => `${title}. ${lines.join(' ')}`,
  at: (bench, value) => `Stand ${f.number(bench)}: ${value}.`,

  each: 'Stand für Stand',
  verdict: { agrees: 'stimmt', 'reads high': 'misst zu viel', 'reads low': 'misst zu wenig', noisy: 'streut' },
  noVerdict: 'nicht beurteilt',
  racesSince: (b) =>
    b.last_good
      ? `${f.plural(b.since_good, { one: 'Ein Rennen', other: '# Rennen' })} seit der letzten guten Messung um ${f.time(b.last_good)}.`
      : `${f.plural(b.since_good, { one: 'Ein Rennen', other: '# Rennen' })}, und noch keine gute Vergleichsmessung.`,
  outOfService: 'außer Betrieb',
  missing: 'Was die Stände vergleichbar machen würde',

  suspects: 'Fahrten, die nicht passen',
  suspectsSays:
    'Weit weg von dem, was dasselbe Auto sonst fährt, die Stände berücksichtigt. Sieh sie dir an; von selbst wird nichts weggelassen.',
  suspectsNone: 'Keine.',
  run: 'Fahrt um',
  what: 'Was',
  offBy: 'Daneben um',
  reference: (check, car) => `Messung ${f.number(check)}, Auto ${f.number(car)}`,
  drop: 'Weglassen',
  dropLabel: (run) => `Weglassen: Fahrt von ${run}`,

  doubt: 'Zweifelhafte Fahrten',
  doubtSays:
    'Eine misslungene Messung stellt alle Rennen ihres Stands seit der letzten guten in Zweifel. Die Rennleitung entscheidet über jedes oder lässt sie gelten.',
  rule: 'Entscheiden',
  ruleLabel: (run) => `Entscheiden: Fahrt von ${run}`,

  check: 'Vergleichsmessung',
  checkSays:
    'Zehn Minuten am Morgen: Autos, mit denen niemand Rennen fährt, laufen reihum an jedem Stand. Noch einmal nach dem Mittag, und immer wenn ein Stand bewegt oder repariert wurde.',
  steps: 'So geht es',
  cars: 'Vergleichsautos',
  carsNone: 'Noch ist kein Auto des Vereins als Vergleichsauto gekennzeichnet. Füge eines mit seiner Nummer hinzu.',
  carNumber: 'Nummer auf dem Auto',
  addCar: 'Vergleichsauto hinzufügen',
  seconds: 'Sekunden je Fahrt',
  secondsHelp: 'Eine halbe Minute ist üblich.',
  begin: 'Messung beginnen',
  beginAgain: 'Weitere Messung beginnen',
  beginSays: 'Die Seiten der Stände bieten dann jedem seine nächste Fahrt an, je ein Druck.',
  slots: (n) => `Messung ${f.number(n)}: der Plan`,
  slot: 'Feld',
  carOf: (n) => `Auto ${f.number(n)}`,
  done: 'fertig',
  runNow: 'jetzt fahren',
  toCome: 'kommt noch',
  progress: (done, of) => `${f.number(done)} von ${f.number(of)} Fahrten sind gemacht.`,
  results: (n, against) =>
    ({
      itself: `Messung ${f.number(n)}: Noch gibt es nichts zum Danebenhalten, nur Streuung ist ein Fehler`,
      earlier: `Messung ${f.number(n)}, neben der Messung davor`,
      adopted: `Messung ${f.number(n)}, neben den übernommenen Faktoren`,
    })[against],
  good: 'gut',
  bad: 'nicht gut',
  early: 'noch zu wenige Fahrten',
  moved: 'Verstellt um',
};
