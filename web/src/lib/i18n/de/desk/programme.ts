import type { programme as English } from '../../en/desk/programme';
import { format as f } from '../format';

const races = (n: number) => f.plural(n, { one: '# Rennen', other: '# Rennen' });

/** The programme of a division. */
export const programme: typeof English = {
  title: 'Programm',
  none: 'Noch gibt es keine Klasse. Füge im Plan eine hinzu.',
  toPlan: 'Zum Plan',
  divisions: 'Klassen',
  otherProgrammes: 'Andere Programme für den Tag',
  otherProgrammesSay:
    'Gäbe eine andere Form den Kindern mehr Rennen, oder wäre sie früher zu Ende? Vor der ersten Auslosung lassen sich Programme vergleichen.',
  otherProgrammesLook: 'Andere Programme ansehen',

  state: {
    open: 'Die Anmeldung ist offen.',
    closed: 'Die Anmeldung ist geschlossen. Der erste Durchgang kann ausgelost werden.',
    drawn: (round) => `Ausgelost: ${round}.`,
    roundClosed: (round) => `Offiziell: ${round}.`,
    ended: 'Die Klasse wurde vor ihrem letzten Durchgang beendet. Die Ergebnisse können veröffentlicht werden.',
    published: (number) =>
      number === 1
        ? 'Die Ergebnisse sind veröffentlicht.'
        : `Die Ergebnisse sind veröffentlicht, Berichtigung ${f.number(number - 1)}.`,
  },
  few: (who, promised) =>
    `${f.list(who.map((w) => `${w.racer} (${races(w.runs)})`))}: Das Programm hat keinen Lauf mehr für sie, und die Regeln versprechen ${races(promised)}.`,
  outdated:
    'Die letzte Auslosung beruht auf einem Ergebnis, das eine Entscheidung seither geändert hat. Von selbst wird nicht neu ausgelost.',

  draw: 'Nächsten Durchgang auslosen',
  drawFirst: 'Ersten Durchgang auslosen',
  changeShort: 'Versprechen oder Programm ändern',
  drawShort: 'Trotzdem auslosen',
  drawShortLabel: (division) => `Trotzdem auslosen: ${division}, wo manche vielleicht seltener fahren als versprochen`,
  letStand: 'Auslosung gelten lassen',
  letStandTitle: (name) => `Die letzte Auslosung von ${name} gelten lassen`,
  letStandSays:
    'Die Autos fahren weiter, wie sie ausgelost sind, obwohl ein Ergebnis jetzt andere schicken würde. Es ist eine Entscheidung und bleibt in der Liste; ändert sich ein anderes Ergebnis, ist die Auslosung wieder überholt.',
  drawAgain: 'Neu auslosen',
  drawAgainTitle: (name) => `Den letzten Durchgang von ${name} neu auslosen`,
  drawAgainSays:
    'Die Läufe des letzten Durchgangs werden verworfen und mit neuen Losen ausgelost. Es ist eine Entscheidung und bleibt in der Liste. Nicht möglich, sobald einer seiner Läufe aufgerufen wurde.',
  close: 'Durchgang abschließen',
  closeOf: (round) => `Abschließen: ${round}`,
  closeEarly: 'Früher abschließen',
  closeEarlyTitle: 'Den Durchgang vor Ende der Einspruchsfrist abschließen',
  closeEarlySays:
    'Die Ergebnisse werden sofort offiziell, und niemand kann mehr Einspruch erheben. Jeder Lauf muss ausgehängt sein.',
  end: 'Die Klasse hier beenden',
  endTitle: (name) => `${name} vor dem letzten Durchgang beenden`,
  endSays:
    'Kein weiterer Durchgang wird ausgelost. Was gefahren ist, gilt, und die Rangliste, wie sie ist, wird die endgültige. Es ist eine Entscheidung und lässt sich nicht zurücknehmen.',
  publish: 'Ergebnisse veröffentlichen',
  publishTitle: (name) => `Ergebnisse von ${name} veröffentlichen`,
  publishSays:
    'Alle sehen die Rangliste als offiziell. Eine spätere Änderung wird als nummerierte Berichtigung mit Datum veröffentlicht.',

  notes: {
    'clubmates-meet': (who, round) =>
      `${who} kommen aus einem Verein und können schon in Durchgang ${f.number(round)} aufeinandertreffen: Kein besserer Platz war frei.`,
    'groupmates-meet': (who, round) =>
      `${who} kommen aus einer Gruppe und können schon in Durchgang ${f.number(round)} aufeinandertreffen: Kein besserer Platz war frei.`,
    'clubmates-in-group': (who, _round, group) =>
      `${who} kommen aus einem Verein und sind in Gruppe ${group}: Kein besserer Platz war frei.`,
    'seeds-moved': (who) =>
      `${who} tauschten die Plätze in ihrer Setzgruppe, damit Vereinskameraden spät aufeinandertreffen.`,
    'run-in-turn': (who) => `${who} teilen ein Auto: Treffen sie aufeinander, fahren sie nacheinander.`,
    'no-plate': () => 'Die Trostrunde entfällt: Weniger als zwei, die gleich verlieren, haben keinen anderen Lauf.',
    'no-third-place': () => 'Der Lauf um Platz 3 entfällt: Er braucht vier im K. o.',
    'no-b-final': () => 'Das B-Finale entfällt: Weniger als zwei sind dafür übrig, oder es folgt kein Finale.',
    'fewer-next-best': (_who, round) =>
      `Aus Durchgang ${f.number(round)} kommen weniger Nächstbeste weiter, als das Programm sagt: Das Finale hat nicht mehr Bahnen, oder sonst fuhr niemand.`,
  },
  noteOther: (code, who) => `${code}: ${who}`,

  why: (reasons) => `Warum: ${reasons.join('; ')}.`,
  gaveWay: (reasons) => `Eine Regel musste weichen: ${reasons.join('; ')}.`,

  rounds: 'Durchgänge',
  roundsNone: 'Noch ist nichts ausgelost.',
  roundClosed: 'offiziell',
  roundOpen: 'offen',
  toCome: 'kommt noch',
  lots: (seed, how) => `Ausgelost mit Losnummer ${seed}${how ? `: ${how}` : ''}.`,
  byes: 'Kommt ohne Rennen weiter:',
  winnerOf: (heat) => `wer gewinnt: ${heat}`,
  loserOf: (heat) => `wer verliert: ${heat}`,
  nobody: 'niemand',
  openSlot: 'noch offen',
  versus: 'gegen',

  saveCsv: 'Als CSV speichern',
  standings: 'Rangliste',
  standingsNone: 'Noch keine Rangliste. Sie beginnt mit dem ersten Ergebnis.',
  final: 'Endgültig',
  asItStands: 'So steht es jetzt',
  changed: 'Seit der Veröffentlichung geändert; nicht offiziell, bis neu veröffentlicht wird',
  band: 'Rangliste in',
  bandAll: 'Alle, die zusammen fahren',
  rank: 'Platz',
  racer: 'Auto',
  result: 'Ergebnis',
  exit: 'K. o.',
  decided: 'Entschieden',
  curves: 'Kurven',
  curvesOf: (stage) => `${stage}, Kurven`,
  curveOf: (who, race) => `Kurve von ${who}, ${race}`,
  runs: 'Fahrten',
  tooClose: (numbers) => `zu knapp neben ${f.list(numbers.map((n) => f.number(n)))}`,
  winner: 'gewonnen',
  inIt: 'fährt noch mit',
  unranked: '–',
  checkCode: (code) => `Prüfcode ${code}`,

  lanes: {
    title: (stage) => `Bahnen: ${stage}`,
    says: (design, cars, lanes) => `${design}: ${f.number(cars)} Autos in Läufen zu ${f.number(lanes)}.`,
    what: 'Was',
    least: 'Wenigste',
    most: 'Meiste',
    runs: 'Fahrten eines Autos',
    meetings: 'Begegnungen zweier Autos',
    lane: 'Fahrten eines Autos auf einer Bahn',
    bench: 'Fahrten eines Autos an einem Stand, wie geplant',
    efficiency: (n) => `Wirkungsgrad ${f.number(n, 2)}: 1 wäre jeder in jedem Lauf.`,
    fits: (rounds) =>
      `Mit ${f.number(rounds)} Durchgängen oder einem Vielfachen davon passt ein Plan auf so viele Autos und Bahnen.`,
    none: 'Für so viele Autos und Bahnen ist kein Plan bekannt.',
  },

  corrections: 'Berichtigungen',
  correctionsNone: 'Kein offizielles Ergebnis wurde geändert.',
  correction: (n) => `Berichtigung ${f.number(n)}`,
};
