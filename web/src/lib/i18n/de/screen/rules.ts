import type { components } from '$lib/api/schema.gen';
import type { rules as English } from '../../en/screen/rules';
import { dayCodes } from '../day-codes';
import { format as f } from '../format';
import { ruleCodes } from '../rule-codes';

type Schema = components['schemas'];
type Rules = Schema['Rules'];

/** A time as one says it: whole hours or minutes from two on, else seconds. */
const time = (s: number) =>
  s >= 7200 && s % 3600 === 0
    ? f.plural(s / 3600, { one: '# Stunde', other: '# Stunden' })
    : s >= 120 && s % 60 === 0
      ? f.plural(s / 60, { one: '# Minute', other: '# Minuten' })
      : f.plural(Math.round(s), { one: '# Sekunde', other: '# Sekunden' });

/** A range as one says it; 0 is no bound. */
const span = (s: Schema['Span']) =>
  !s.min
    ? `höchstens ${f.amount(s.max)}`
    : !s.max
      ? `mindestens ${f.amount(s.min)}`
      : `${f.amount(s.min)} bis ${f.amount(s.max)}`;

const lateHere = (l: Rules['late']): string =>
  l === 'no' ? 'nach der Auslosung darf niemand mehr dazu' : 'wer später kommt, fährt ab dem nächsten Durchgang mit';

/** The rules of the day on one sheet, in whole sentences. */
export const rules: typeof English = {
  title: 'Regeln des Tages',
  seen: 'Was vor dem ersten Lauf abgemacht wurde. Es gilt für alle gleich.',
  noDivisions: 'Die Klassen sind noch nicht geplant.',

  who: (d) =>
    d.age_to
      ? `Für ${f.number(d.age_from)} bis ${f.number(d.age_to)} Jahre; Jüngere dürfen hochfahren.`
      : `Ab ${f.number(d.age_from)} Jahren; Jüngere dürfen hochfahren.`,
  car: (c) =>
    [
      `Autos: ${c.name}`,
      c.cells ? f.plural(c.cells, { one: '# Zelle', other: '# Zellen' }) : '',
      c.wheel_mm ? `Räder von ${f.amount(c.wheel_mm)} mm` : '',
      c.mass_max_g ? `höchstens ${f.number(c.mass_max_g)} g` : '',
    ]
      .filter(Boolean)
      .join(', ') + '.',
  lap: (m) => `Eine Runde ist ${f.amount(m)} m.`,
  release: (how) => `Start: ${/[.!?]$/.test(how) ? how : `${how}.`}`,
  lateHere,
  stage: (s, first) =>
    [
      dayCodes.stageKind[s.kind] + (first || !s.entries ? '' : ` der besten ${f.number(s.entries)}`),
      s.rounds ? f.plural(s.rounds, { one: '# Durchgang', other: '# Durchgänge' }) : '',
      `jede Fahrt dauert ${time(s.race_s)}`,
      `bis zu ${f.plural(s.lanes, { one: '# Auto', other: '# Autos' })} in einem Lauf`,
      s.rule ? dayCodes.timedRule[s.rule] : '',
      s.late ? lateHere(s.late) : '',
      s.third_place ? 'mit einem Lauf um Platz 3' : '',
      s.legs === 2
        ? 'jeder Lauf in zwei Teilen mit getauschten Ständen, und ein Entscheidungslauf, wenn es danach gleich steht'
        : '',
      s.cycles === 2 ? 'jeder trifft zweimal auf jeden' : '',
      s.lane_design ? 'Bahnen und Begegnungen gleichmäßig verteilt' : '',
      s.b_final ? 'mit einem B-Finale' : '',
      s.plate ? 'wer gleich verliert, fährt in einer Trostrunde weiter' : '',
      s.advance
        ? `${f.plural(s.advance, { one: 'der Erste', other: 'die ersten #' })} jedes Laufs ${s.advance === 1 && !s.next_best ? 'kommt' : 'kommen'} weiter${s.next_best ? ` und die nächstbesten ${f.number(s.next_best)}` : ''}`
        : '',
      s.groups ? f.plural(s.groups, { one: '# Gruppe', other: '# Gruppen' }) : '',
    ]
      .filter(Boolean)
      .join(', ') + '.',

  battery: (w) =>
    [
      `Batterien: ${f.plural(w.cells, { one: '# Zelle', other: '# Zellen' })} ${ruleCodes.chemistry[w.chemistry]}`,
      `${span(w.open_v)} V in Ruhe`,
      w.load_v ? `${span(w.load_v)} V unter Last` : '',
      w.valid_s ? `eine Prüfung gilt ${time(w.valid_s)}` : '',
      w.rest_s ? `${time(w.rest_s)} Ruhe zwischen zwei Fahrten` : '',
    ]
      .filter(Boolean)
      .join(', ') + '.',
  checklist: (items) =>
    `Vor dem Rennen geprüft: ${items.map((i) => (i.unit && (i.min || i.max) ? `${i.name}: ${span({ min: i.min ?? 0, max: i.max ?? 0 })} ${i.unit}` : i.name)).join('; ')}.`,
  gate: {
    battery: {
      off: '',
      warn: 'Auf eine Batterie, die nicht geprüft ist, wird am Stand hingewiesen.',
      hold: 'Mit einer Batterie, die nicht geprüft ist, wird nicht gefahren: Geh vor dem Lauf zum Abnahmetisch.',
    },
    inspection: {
      off: '',
      warn: 'Auf ein Auto ohne Abnahme wird am Stand hingewiesen.',
      hold: 'Ein Auto ohne Abnahme fährt nicht: Geh vor dem Lauf zum Abnahmetisch.',
    },
  },
  results: 'Ergebnisse',
  provisional: (r) =>
    r.protest_s > 0
      ? `Ein Ergebnis kann sich ${time(r.protest_s)} lang ändern, nachdem es gezeigt wurde: So lange ist Einspruch möglich. Danach ist es offiziell, und nur eine nummerierte Berichtigung ändert es.`
      : 'Ein Ergebnis ist offiziell, sobald sein Durchgang abgeschlossen ist.',
  tie: {
    shared: 'Wer an einem Preis oder am letzten Platz zum Weiterkommen gleich ist, teilt ihn: 1, 1, 3.',
    'next-best':
      'Wer an einem Preis oder am letzten Platz zum Weiterkommen gleich ist, wird durch die nächstbeste Fahrt getrennt.',
    decider: 'Wer an einem Preis oder am letzten Platz zum Weiterkommen gleich ist, fährt noch einmal.',
  },
  close:
    'Zwei an einem Preis oder am letzten Platz zum Weiterkommen, deren Ergebnisse zu knapp beieinanderliegen, fahren einmal einen Entscheidungslauf. Die Ergebnisse bleiben; er ordnet die beiden.',
  didNotFinish: {
    'keep-distance': 'Ein Auto, das vor dem Ende stehen bleibt, behält die Strecke, die es hat.',
    'no-result': 'Ein Auto, das vor dem Ende stehen bleibt, hat in diesem Lauf kein Ergebnis.',
  },
  handCounts: {
    ranks: 'Ein von Hand gezähltes Ergebnis ist gekennzeichnet und zählt für die Rangliste.',
    shown: 'Ein von Hand gezähltes Ergebnis ist gekennzeichnet und zählt nicht für die Rangliste.',
  },
  uncertain: 'Jede Zahl hat ein ±: Die wahre liegt 95-mal von 100 darin.',

  there: 'Da sein',
  call: (r) =>
    r.call_s > 0
      ? `Nach dem Aufruf hat ein Auto ${time(r.call_s)}, um an seinem Stand zu sein. Danach darf die Rennleitung entscheiden, dass es nicht gestartet ist.`
      : 'Ein aufgerufenes Auto kommt sofort an seinen Stand.',
  late: {
    no: 'Nach der Auslosung kann niemand mehr dazu.',
    'next-round': 'Wer später kommt, fährt ab dem nächsten Durchgang auf Zeit mit; was versäumt ist, bleibt leer.',
  },
  reruns: (r) =>
    r.reruns_per_entry > 0
      ? `Jedes Auto kann am ganzen Tag ${f.plural(r.reruns_per_entry, { one: '# Wiederholung', other: '# Wiederholungen' })} bekommen. Jemand von der Rennleitung genehmigt sie mit Namen und Grund.`
      : 'Es gibt keine Wiederholungen; nur ein Gleichstand, der entschieden werden muss, wird noch einmal gefahren.',

  together: (host) => `Fährt zusammen mit ${host}, nach deren Programm, mit eigenen Plätzen.`,
  promised: (n) =>
    `Wer bis zum Ende bleibt, hat in einer Klasse mindestens ${f.plural(n, { one: '# Rennen', other: '# Rennen' })}.`,
  sure: (n) => `Wer bis zum Ende bleibt, fährt mindestens ${n === 1 ? 'einmal' : `${f.number(n)}-mal`}.`,

  incidents: 'Was an einem Stand passieren kann',
  incidentsSays: 'Was daraus folgt, ist vorher abgemacht. Die Rennleitung entscheidet mit Namen.',
  incident: 'Was passiert',
  follows: 'Was folgt',
  onTheDay: 'Wird am Tag entschieden',
  in: (division) => `in ${division}`,

  benches: 'Wenn Stände nicht gleich messen',
  bench: {
    report: 'Es wird gesagt, und die Ergebnisse bleiben, wie sie gemessen wurden.',
    correct:
      'Ergebnisse, die noch nicht offiziell sind, werden zu Zeiten berichtigt, die vorher gesagt werden; beide Zahlen werden gezeigt.',
    'take-out': 'Ein Stand, der nicht übereinstimmt, bekommt keine Läufe mehr.',
  },

  care: 'Pass auf',
  careSays:
    'Das sind die üblichen Warnungen. Die Regeln dieses Ortes und die Menschen, die hier das Sagen haben, gehen vor.',
  cautions: [
    'Rollen drehen sich schnell, und ein Auto kann weggeschleudert werden: Haare, Ärmel, Bänder und Finger fernhalten, und nicht vor den Enden eines Stands stehen.',
    'Lass die Rollen stehen bleiben, bevor du etwas anfasst. „Alle Stopp“ gilt für alle: Ein Stand kann keinen Motor ausschalten.',
    'Eine Zelle, die heiß, dick oder undicht ist, oder ein heißer Draht: nicht anfassen, sofort einem Erwachsenen sagen.',
    'Nur Zellen laden, die dafür gemacht sind, und nur mit einem Erwachsenen. Alte und neue Zellen oder verschiedene Sorten nicht mischen.',
    'Farbe und Kleber nur mit einem Erwachsenen und frischer Luft. Kleine Teile sind nichts für Kinder unter drei Jahren.',
    'Musst du laut werden, damit man dich in einem Meter Abstand hört, geh weiter weg oder halte dir die Ohren zu.',
  ],

  tasks: 'Der Tag neben den Rennen',
  taskWhen: (from, until) => `${from} bis ${until}`,
  lunchEach: (minutes) =>
    `jedes Kind hat in dieser Zeit ${f.number(minutes)} Minuten ohne Rennen, während andere fahren`,
  nobodyRaces: 'In diesen Zeiten fährt niemand.',
  cuts: 'Wenn es spät wird',
  cutsSays: 'Wird es spät, fällt dies weg, die erste Zeile zuerst. Was gefahren ist, zählt.',
  cut: {
    'fewer-rounds': (division) => `${division}: ein Durchgang weniger`,
    'no-third-place': (division) => `${division}: kein Rennen um Platz drei, beide sind Dritte`,
    'no-plate': (division) => `${division}: keine Trostrunde`,
    'one-leg': (division) => `${division}: jedes Paar fährt einmal, nicht zweimal`,
    'no-b-final': (division) => `${division}: kein B-Finale`,
    'no-last-stage': (division) => `${division}: ohne die letzte Stufe`,
    'end-after-stage': (division) => `${division}: die laufende Stufe ist die letzte`,
    'end-after-round': (division) => `${division}: der ausgeloste Durchgang ist der letzte`,
  },
  cutSaves: (minutes) => f.plural(minutes, { one: '# Minute früher', other: '# Minuten früher' }),
  cutWhom: (children) => f.plural(children, { one: '# Kind fährt weniger', other: '# Kinder fahren weniger' }),
  cutRuns: (runs) => f.plural(runs, { one: 'jedes fährt mindestens einmal', other: 'jedes fährt mindestens #-mal' }),
  cutFair: (time) => `nur bis etwa ${time}`,
};

export { trust } from './trust';
