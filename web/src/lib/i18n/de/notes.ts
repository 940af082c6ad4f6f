import type { Told } from '../told';

/** The sentences of the comparison of benches and of advices. */
export const notes: Told = {
  'bench-agrees': 'Stand {bench} stimmt mit der Mitte der Stände überein.',
  'bench-high':
    'Stand {bench} misst {percent} % zu viel: Für dasselbe Auto zeigt er so viel mehr als der mittlere Stand.',
  'bench-low':
    'Stand {bench} misst {percent} % zu wenig: Für dasselbe Auto zeigt er so viel weniger als der mittlere Stand.',
  'bench-noisy':
    'Stand {bench} streut: Seine Ergebnisse streuen {times}-mal so stark wie die der anderen. Sieh nach Rollen, Sensor und Marke, bevor du ihnen traust.',
  'bench-alone': 'Stand {bench} ist der einzige: Es gibt nichts zum Vergleichen.',
  'bench-few':
    'Für ein Urteil über Stand {bench} gibt es zu wenige Fahrten: Lass ein Auto noch einmal an mehreren Ständen fahren.',
  'bench-untied': 'Stand {bench} lässt sich noch nicht mit allen anderen vergleichen: Keine Autos verbinden sie.',
  'bench-in-round':
    'Stand {bench} lässt sich nicht mit allen anderen vergleichen: Er und seine Durchgänge gehören zusammen, und Autos ändern sich von Durchgang zu Durchgang.',
  'bench-up-hour': 'Über den Tag misst er immer mehr, etwa {percent} % je Stunde.',
  'bench-down-hour': 'Über den Tag misst er immer weniger, etwa {percent} % je Stunde.',
  'bench-up-round': 'Von Durchgang zu Durchgang misst er mehr, je etwa {percent} %.',
  'bench-down-round': 'Von Durchgang zu Durchgang misst er weniger, je etwa {percent} %.',
  'benches-untied':
    'Kein Auto fuhr an einem Stand aus jeder dieser beiden Gruppen: {one}; und {other}. Lass ein Auto an einem Stand aus jeder fahren.',
  'benches-in-rounds':
    'Was diese beiden Gruppen von Ständen messen, lässt sich nicht von dem trennen, was alle Autos von Durchgang zu Durchgang taten: {one}; und {other}. Lass Autos innerhalb derselben Durchgänge zwischen ihnen wechseln, manche hin und manche her.',
  'bench-mean-high': 'Stand {bench} misst {percent} % über dem Mittel der Stände.',
  'bench-mean-low': 'Stand {bench} misst {percent} % unter dem Mittel der Stände.',
  'bench-spread':
    'Stand {bench} streut: Seine eigenen Ergebnisse streuen mehr, als der Zufall erklärt. Sieh nach Rollen, Sensor und Marke, bevor du ihnen traust.',
  'bench-straggler':
    'Unter gleichen Ständen ist das selten, kommt aber vor: Such nach einem Grund, und behalte seine Ergebnisse, wenn es keinen gibt.',

  'advice-noisy': 'Stand {bench} streut heute.',
  'advice-suspect': 'Diese Fahrt liegt weit weg von dem, was dasselbe Auto sonst fährt, die Stände berücksichtigt.',
  'advice-level':
    'Stand {bench} misst nicht wie die anderen: Das ist Sache seines Faktors und kein Grund für eine Wiederholung.',
  'advice-whole': 'Dieselbe Ursache von außen traf {hit} von {lanes} Bahnen: Fahrt den ganzen Lauf noch einmal.',
  'run-impossible':
    'Das sind im Durchschnitt {kmh} km/h, und kein solches Auto fährt mehr als {most}: Stimmen Umfang und Marken des Stands, oder die Zählung?',
  'run-far-above':
    'Das ist das {times}-fache des Üblichen in dieser Klasse: Stimmen Umfang und Marken des Stands, oder die Zählung?',
  'run-far-below':
    'Üblich ist in dieser Klasse das {times}-fache davon: Stimmen Umfang und Marken des Stands, oder die Zählung?',
  'advice-limit': 'Die Anmeldung hatte ihre {limit} Wiederholungen: Die Regeln erlauben keine mehr.',
  'advice-official': 'Das ist ein Vorschlag: Die Rennleitung entscheidet, mit Namen und Grund.',

  'reference-cars':
    'Nimm ein oder mehrere Vergleichsautos, mit denen niemand Rennen fährt, jedes mit einem frischen Pack derselben Art, und schreib ihre Nummern auf.',
  'reference-benches':
    'Wisch Rollen und Marken ab, schirme die Sensoren ab und dreh jede Rolle von Hand: Der Zähler muss jede Drehung einmal zählen.',
  'reference-warm':
    'Lass jedes Auto zuerst eine Minute an irgendeinem Stand laufen: Kalte Motoren und Reifen ändern sich, während du misst.',
  'reference-run':
    'Folge dem Plan Feld für Feld: eine halbe Minute fahren, eine halbe Minute zum Umsetzen. Verstell die Autos dazwischen nicht.',
  'reference-fit':
    'Sieh dir den Vergleich der Stände an. Mach einen streuenden Stand sauber und lass ihn noch einmal laufen.',
  'reference-rule':
    'Entscheide, was vorher abgemacht war: sagen, berichtigen oder einen Stand herausnehmen. Die Rennleitung unterschreibt.',
  'reference-again':
    'Wiederhole die Messung nach dem Mittag und immer, wenn ein Stand bewegt oder repariert wurde. Wo sie misslingt, sind alle Fahrten dieses Stands seit der letzten guten aufgeführt.',
  'recheck-good': 'Stand {bench} misst wie vorher.',
  'recheck-up':
    'Stand {bench} hat sich verstellt: Er misst {percent} % mehr als vorher. Seine Fahrten seit der letzten guten Messung sind zweifelhaft.',
  'recheck-down':
    'Stand {bench} hat sich verstellt: Er misst {percent} % weniger als vorher. Seine Fahrten seit der letzten guten Messung sind zweifelhaft.',
};
