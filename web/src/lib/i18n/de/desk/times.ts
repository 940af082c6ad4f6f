import type { times as English } from '../../en/desk/times';
import { chance } from '../chance';
import { format as f } from '../format';
import { ruleCodes } from '../rule-codes';

const minutes = (n: number) => f.plural(n, { one: '1 Minute', other: '# Minuten' });

/** reasons are what a heat waits for, as they stand behind "wartet auf". */
const reasons: (typeof English)['reasons'] = {
  benches: (of, _, heat) =>
    `einen freien Stand, ${f.number(of.benches ?? 0)} in Betrieb${heat === undefined ? '' : `, nach ${heat}`}`,
  car: (of, _, heat) =>
    heat === undefined ? `Auto ${f.number(of.number ?? 0)}, das ruht` : `Auto ${f.number(of.number ?? 0)} aus ${heat}`,
  round: (_, division) => `die Ergebnisse von ${division}`,
  told: () => 'die angesagte Zeit, oder die, bis zu der er zurückgehalten ist',
  leg: () => 'den Teil davor',
  pause: () => 'das Ende der Pause',
  order: () => 'die Läufe davor',
  task: (of) => `das Ende von: ${taskName(of.task)}`,
  adults: () => 'die Erwachsenen an den Ständen, die für jeden Wechsel länger oder kürzer brauchen',
};

const taskName = (kind: string | undefined) => ruleCodes.task[(kind ?? 'set-up') as keyof typeof ruleCodes.task];

/** The page of when things will likely be. */
export const times: typeof English = {
  title: 'Zeiten',
  fits: 'Reicht der Tag?',
  over: (time) => `Das letzte Rennen ist wahrscheinlich um ${time} vorbei.`,
  nothingLeft: 'Es ist nichts mehr zu fahren.',
  noBench: 'Kein Stand ist in Betrieb, deshalb kann niemand sagen, wann der nächste Lauf kommt.',
  closes: (time) => `Die Halle schließt um ${time}.`,
  lastRaceBy: (closes, by) =>
    `Die Halle schließt um ${closes}: Mit Siegerehrung und Aufräumen muss das letzte Rennen um ${by} vorbei sein.`,
  noCloses: 'Der Plan sagt nicht, wann die Halle schließt.',
  spare: (n) => `Es bleiben ${minutes(n)}.`,
  short: (n) => `Das sind ${minutes(n)} zu spät.`,
  forecast: (late, early) => `Von zehn Tagen wie diesem endet einer vor ${early} und einer nach ${late}.`,
  late: (of, by) => `Vorbei nach ${by}: ${chance(of)}.`,
  holdsUp: {
    benches: (of) =>
      `Der größte Teil des Rests vergeht mit Warten auf Stände: ${f.plural(of.benches ?? 0, { one: '1 ist', other: '# sind' })} in Betrieb.`,
    car: (of) =>
      `Der größte Teil des Rests vergeht mit Warten auf Auto ${f.number(of.number ?? 0)}: Es fährt oft und ruht dazwischen.`,
    round: (_, division) =>
      `Der größte Teil des Rests vergeht mit Warten auf Ergebnisse und Einspruchsfristen von ${division}.`,
    told: () => 'Der größte Teil des Rests vergeht mit Warten auf die angesagten Zeiten.',
    leg: (_, division) => `Der größte Teil des Rests vergeht mit Warten zwischen den Teilen von ${division}.`,
    task: (of) => `Der größte Teil des Rests vergeht mit Warten auf das Ende von: ${taskName(of.task)}.`,
    inspection: () => 'Der größte Teil des Rests vergeht mit Warten auf Autos, die noch nicht abgenommen sind.',
  },
  pace: (of) =>
    `Gerechnet mit ${f.countdown(of.call_s)} vom Aufruf bis zum Start, ${f.countdown(of.post_s)} vom Ende eines Rennens bis zum Ergebnis, ${f.countdown(of.changeover_s)} bis zum nächsten Aufruf: ${of.from_heats > 0 ? `was üblich ist und was ${f.plural(of.from_heats, { one: 'ein Lauf', other: '# Läufe' })} von heute gezeigt ${of.from_heats === 1 ? 'hat' : 'haben'}` : 'was üblich ist, denn noch ist nichts gefahren'}.`,

  adults: (n, crowd) =>
    `${f.plural(n, { one: '1 Erwachsener ist', other: '# Erwachsene sind' })} an den Ständen${crowd > 1 ? `: Aufrufe und Wechsel dauern ${f.amount(Math.round(crowd * 10) / 10)}-mal so lange wie üblich` : ''}.`,
  adultsNone: 'Wie viele Erwachsene an den Ständen sind, ist nicht gesagt: Schreib es unter „Was wäre, wenn …“.',
  tasks: 'Neben den Rennen',
  taskEach: (n) => `${minutes(n)} für jedes Kind, während andere fahren`,

  told: (time, finish) => `Um ${time} angesagt: vorbei um ${finish}.`,
  toldNever: 'Noch wurden keine Zeiten angesagt.',
  drift: (n) =>
    Math.abs(n) < 5
      ? 'Der Tag läuft wie angesagt, auf fünf Minuten genau.'
      : n > 0
        ? `Der Tag ist ${minutes(n)} hinter der Ansage.`
        : `Der Tag ist ${minutes(-n)} vor der Ansage.`,
  begun: {
    title: 'Was angesagt war, und wann es begann',
    began: 'Begann',
    later: 'Unterschied',
    by: (n) => (n === 0 ? 'wie angesagt' : n > 0 ? `${minutes(n)} später` : `${minutes(-n)} früher`),
  },
  tell: 'Diese Zeiten ansagen',
  tellTitle: 'Diese Zeiten ansagen',
  tellSays:
    'Familien sehen „nicht vor“ diesen Zeiten auf der öffentlichen Anzeige und auf den Seiten ihrer Autos. Eine angesagte Zeit wird nie früher aufgerufen, außer jemand sagt, dass alle da sind; später werden kann es.',

  next: 'Die nächsten Läufe',
  nextNone: 'Kein Lauf wartet auf seinen Aufruf.',
  likely: (time) => `etwa ${time}`,
  notBefore: (time) => `nicht vor ${time}`,
  was: (time) => `war ${time}`,
  held: (time) => `zurückgehalten bis ${time}`,
  ahead: (n) => (n === 0 ? 'als Nächstes' : f.plural(n, { one: '1 Lauf davor', other: '# Läufe davor' })),
  benches: (numbers) => `${numbers.length === 1 ? 'Stand' : 'Stände'} ${f.list(numbers.map((n) => f.number(n)))}`,
  cars: (numbers) => f.list(numbers.map((n) => f.number(n))),
  sooner: 'Früher',
  later: 'Später',
  hold: '10 Minuten zurückhalten',
  letGo: 'Freigeben',
  of: (deed, heat) => `${deed}: ${heat}`,
  moved: (heat, place) => `${heat} ist jetzt an ${f.number(place)}. Stelle.`,
  more: (n) => f.plural(n, { one: 'Ein weiterer Lauf ist ausgelost.', other: '# weitere Läufe sind ausgelost.' }),

  rounds: 'Durchgänge des Tages',
  division: 'Klasse',
  round: 'Durchgang',
  heats: 'Läufe übrig',
  from: 'Etwa ab',
  until: 'Etwa bis',
  told_: 'Angesagt',
  between: 'An acht von zehn Tagen',
  possible: 'wenn nötig',
  waits: 'wartet auf den Abschluss',
  range: (early, late) => `${early} bis ${late}`,

  reasons,
  waitsFor: (reason) => `wartet auf ${reason}`,
  waitsNoMore: (reason) => `wartet nicht mehr auf ${reason}`,

  look: {
    title: 'Was wäre, wenn …',
    says: 'Sag, wie der Tag sonst wäre, und sieh, was sich verschieben würde. Nachsehen ändert nichts.',
    benches: 'Stände, die außer Betrieb wären',
    bench: (n) => `Stand ${f.number(n)}`,
    outNow: (n) => `Stand ${f.number(n)} (jetzt außer Betrieb)`,
    pause: 'Pause ab jetzt, in Minuten',
    adults: 'Erwachsene an den Ständen',
    adultsNow: (n) => `jetzt ${f.number(n)}`,
    adultsHere: (n) =>
      `${f.plural(n, { one: '1 Erwachsener ist', other: '# Erwachsene sind' })} jetzt da: damit planen`,
    adultsDone: (n) =>
      `Der Tag ist jetzt mit ${f.plural(n, { one: '1 Erwachsenen', other: '# Erwachsenen' })} geplant.`,
    see: 'Zeigen, was sich verschiebt',
    result: 'Was sich verschieben würde',
    over: (time) => `Das letzte Rennen wäre wahrscheinlich um ${time} vorbei.`,
    noBench: 'Kein Stand wäre in Betrieb.',
    later: (n) => `Das sind ${minutes(n)} später, als der Tag jetzt steht.`,
    earlier: (n) => `Das sind ${minutes(n)} früher, als der Tag jetzt steht.`,
    same: 'Das ist auf die Minute, wie der Tag jetzt steht.',
    moves: (n) =>
      f.plural(n, {
        one: 'Ein Lauf verschiebt sich um fünf Minuten oder mehr:',
        other: '# Läufe verschieben sich um fünf Minuten oder mehr:',
      }),
    movesNone: 'Kein Lauf verschiebt sich um fünf Minuten oder mehr.',
    more: (n) => f.plural(n, { one: 'Und noch ein Lauf.', other: 'Und noch # Läufe.' }),
    heat: 'Lauf',
    from: 'Jetzt etwa',
    to: 'Dann etwa',
    by: 'Um',
    minutes,
    laterBy: (n) => `${minutes(n)} später`,
    earlierBy: (n) => `${minutes(n)} früher`,
    why: 'Warum',
    leave: 'So lassen',
    wide: (heat, cars, benches) =>
      `${heat} hat ${f.number(cars)} Autos, und ${f.plural(benches, { one: '1 Stand wäre', other: '# Stände wären' })} in Betrieb: Er würde nacheinander gefahren.`,
    on: (heat, bench) => `${heat} ist an Stand ${f.number(bench)}: Sein Auto dort bräuchte einen anderen Stand.`,
    late: (n) => `Das letzte Rennen wäre ${minutes(n)} zu spät vorbei.`,
    serviceAt: 'Außer Betrieb genommen wird ein Stand auf der Seite „Jetzt“, und dort macht der Renntag auch Pause.',
  },
  done: (heat) => `${heat}: erledigt.`,
  board: {
    views: 'Wie die Läufe gezeigt werden',
    view: { list: 'Liste', hour: 'Nächste Stunde', day: 'Rest des Tages' },
    name: { hour: 'Tafel der nächsten Stunde', day: 'Tafel für den Rest des Tages' },
    hint: 'Pfeiltasten gehen von Lauf zu Lauf. Mit der Umschalttaste rufen links und rechts den Lauf früher oder später auf; Ziehen tut das auch. Die Eingabetaste führt zu seinen Tasten.',
    look: {
      racing: 'fährt',
      called: 'aufgerufen',
      told: 'ausgelost, Zeit angesagt',
      likely: 'ausgelost',
      ahead: 'noch nicht ausgelost',
    },
    option: (heat, time, benches, look) =>
      `${heat}, etwa ${time}, ${benches.length === 1 ? 'Stand' : 'Stände'} ${f.list(benches.map((n) => f.number(n)))}, ${look}`,
    nothing: 'Kein Lauf',
    now: 'jetzt',
    keys: 'Schlüssel zurück',
    lastRace: 'letztes Rennen bis',
    out: 'außer Betrieb',
    dropBefore: (heat, time) => `Vor ${heat}, etwa ${time}.`,
    dropLast: 'Hinter alle anderen.',
    but: (why) => `Aber: ${why}.`,
    carIn: (n, heat) => `Auto ${f.number(n)} ist dann in ${heat}`,
    legIn: (heat) => `${heat} muss vorher gefahren sein`,
    onBench: (heat, bench) =>
      `${heat} ist an Stand ${f.number(bench)}, der außer Betrieb ist: Schick das Auto an einen anderen Stand, oder lass es übrig.`,
    wide: (heat, cars, benches) =>
      `${heat} hat ${f.number(cars)} Autos, und ${f.plural(benches, { one: '1 Stand ist', other: '# Stände sind' })} in Betrieb.`,
    overtaken: (heat, place, why) =>
      `${heat} steht an ${f.number(place)}. Stelle und wird wahrscheinlich überholt: Er ${why}.`,
    moreConflicts: (n) => f.plural(n, { one: 'Und noch einer.', other: 'Und noch #.' }),
    table: 'Die Tafel als Tabelle',
    time: 'Etwa',
    state: 'Wie weit',
    benches: 'Stände',
    cars: 'Autos',
    otherBenches: 'An andere Stände aufrufen',
    callOnTitle: (heat) => `${heat} an gewählte Stände aufrufen`,
    callOnSays: 'Der Lauf wird jetzt aufgerufen, jedes Auto an den Stand, der hier gewählt ist.',
    callOnFew: (cars, benches) =>
      `Der Lauf hat ${f.number(cars)} Autos, und ${f.plural(benches, { one: '1 Stand ist', other: '# Stände sind' })} gerade frei.`,
    callOn: 'Aufrufen',
    noneFree: 'Kein Stand ist frei',
  },
  cuts: {
    title: 'Wenn es spät wird',
    says: 'Was wegfallen kann, was das spart und wem es was nimmt. Entscheidet vor dem Tag, was zuerst wegfällt, und druckt es mit den Regeln.',
    see: 'Zeigen, was wegfallen kann',
    printed: (n) => `Nummer ${f.number(n)} der Liste, die mit den Regeln gedruckt wurde.`,
    unprinted: 'Nicht auf der gedruckten Liste.',
    list: 'Auf der gedruckten Liste',
    placeOf: (n) => f.number(n),
    not: 'nein',
    before: 'Vor dem Tag gewählt',
    beforeSays:
      'Wähle, was wegfallen darf, das Erste zuerst. Die Liste wird mit den Regeln gedruckt und bleibt, sobald der erste Lauf aufgerufen ist. Am Tag wird sie zuerst angeboten.',
    beforeNone: 'Noch ist nichts gewählt.',
    put: 'Auf die Liste',
    putOf: (name) => `Auf die Liste: ${name}`,
    up: 'Früher',
    down: 'Später',
    off: 'Von der Liste',
    deedOf: (deed, name) => `${deed}: ${name}`,
    save: 'Liste speichern',
    listSaved: 'Die Liste ist gespeichert. Sie steht auf dem Blatt mit den Regeln.',
    gone: 'spart nach dem jetzigen Plan nichts mehr; beim Speichern fällt es von der Liste',
    none: 'Nichts kann wegfallen, das eine Minute spart.',
    lateBy: (n) => `So, wie es steht, ist das letzte Rennen ${minutes(n)} zu spät vorbei.`,
    inTime: (n) => `So, wie es steht, ist das letzte Rennen rechtzeitig vorbei, es bleiben ${minutes(n)}.`,
    finish: (time) => `So, wie es steht, ist das letzte Rennen wahrscheinlich um ${time} vorbei.`,
    choices: 'Was sich tun lässt',
    more: 'Alles, was wegfallen kann',
    leave: 'Alles lassen, wie es ist',
    leaveSays:
      'Niemand verliert ein Rennen. Die Halle schließt, wann sie schließt: Sag am Mikrofon, wann die Siegerehrung ist.',
    order: 'Andere Reihenfolge, nichts fällt weg',
    orderSays:
      'Niemand verliert ein Rennen: Die wartenden Läufe werden nur in anderer Reihenfolge aufgerufen. Oben lässt sich eine suchen.',
    saves: (n, time) => `${minutes(n)} früher, vorbei um ${time}`,
    takes: (entries, runs) =>
      `Es nimmt ${f.plural(entries, { one: '1 Kind', other: '# Kindern' })} Rennen; jedes fährt noch mindestens ${f.plural(runs, { one: 'einmal', other: '#-mal' })}.`,
    takesNone: (entries, runs) =>
      `${f.plural(entries, { one: '1 Kind fährt', other: '# Kinder fahren' })} am Ende weniger; was alle sicher fahren, bleibt: ${f.plural(runs, { one: 'einmal', other: '#-mal' })}.`,
    once: 'Davon wird abgeraten: Jemand geht nach einem Rennen nach Hause.',
    fair: (time) => `Fair bis etwa ${time}: Danach ist es ausgelost.`,
    notNow: 'Es geht, sobald der laufende Durchgang offiziell ist: Beende die Klasse dann.',
    short: (n, name) => `Damit endet der Tag ${minutes(n)} früher: ${name}`,
    microphone: 'Fürs Mikrofon',
    doIt: 'Machen',
    doOf: (name) => `Machen: ${name}`,
    doEnd:
      'Das ist eine Entscheidung: Die Klasse endet mit dem, was gefahren ist, und ihre Rangliste, wie sie ist, wird die endgültige.',
    doPlan: 'Das Programm der Klasse wird geändert. Bis zu ihrer ersten Auslosung lässt es sich wieder ändern.',
    done: (name) => `Erledigt: ${name}.`,
    cut: 'Was wegfällt',
    whom: 'Betroffene Kinder',
    least: 'Rennen jedes Kinds mindestens',
    leastNow: (after, before) => (after === before ? f.number(after) : `${f.number(after)} statt ${f.number(before)}`),
    until: 'Fair bis etwa',
    likely: 'Vorbei etwa um',
    saved: 'Spart',
    name: {
      'fewer-rounds': (division, stage) => `${division}: ein Durchgang weniger (${stage})`,
      'no-third-place': (division) => `${division}: kein Rennen um den dritten Platz`,
      'no-plate': (division) => `${division}: keine Trostrunde`,
      'one-leg': (division, stage) => `${division}: ein Rennen je Paar statt zwei (${stage})`,
      'no-b-final': (division) => `${division}: kein B-Finale`,
      'no-last-stage': (division, stage) => `${division}: ohne den letzten Abschnitt (${stage})`,
      'end-after-stage': (division, stage) => `${division}: Ende nach ${stage}`,
      'end-after-round': (division) => `${division}: Ende nach dem ausgelosten Durchgang`,
    },
    words: {
      'fewer-rounds': (division) => `${division}: Es wird ein Durchgang weniger gefahren als geplant.`,
      'no-third-place': (division) => `${division}: Beide, die im Halbfinale verlieren, sind Dritte.`,
      'no-plate': (division) => `${division}: Heute gibt es keine Trostrunde.`,
      'one-leg': (division) => `${division}: Jedes Paar fährt einmal.`,
      'no-b-final': (division) => `${division}: Heute gibt es kein B-Finale.`,
      'no-last-stage': (division) => `${division}: Die Plätze gehen nach dem vorletzten Abschnitt.`,
      'end-after-stage': (division) => `${division}: Die Plätze gehen nach dem, was gerade gefahren wird.`,
      'end-after-round': (division) => `${division}: Der ausgeloste Durchgang ist der letzte.`,
    },
    wordsEnd: (time) => `Was gefahren ist, zählt. Mit dem Fahren sind wir wahrscheinlich um ${time} fertig.`,
  },
  rehearse: {
    title: 'Meinen Tag proben',
    says: 'Spielt den geplanten Tag in einer Kopie, mit dem, was gewöhnlich schiefgeht: ein Prüfer für alle Autos, ein Beginn 25 Minuten zu spät, ein Stand den ganzen Tag kaputt und ein Erwachsener weniger. Nichts wird geändert.',
    play: 'Meinen Tag proben',
    weak: {
      inspection: (until) => `Die schwache Stelle: Abnahme bis ${until}.`,
      'late-start': () => 'Die schwache Stelle: der späte Beginn.',
      'bench-dead': () => 'Die schwache Stelle: ein kaputter Stand.',
      'adult-missing': () => 'Die schwache Stelle: ein Erwachsener, der fehlt.',
    },
    none: 'Keine schwache Stelle: Nichts davon kostet eine Minute.',
    help: {
      inspection: 'Am meisten hilft ein zweiter Prüfer oder eine Abnahme am Abend davor.',
      'late-start': 'Am meisten hilft es, früher zu öffnen oder vor dem ersten Rennen weniger zu tun.',
      'bench-dead': 'Am meisten hilft ein Stand in Reserve oder ein Rennen weniger für jedes Kind.',
      'adult-missing': 'Am meisten hilft ein Erwachsener mehr, der jetzt gefragt wird.',
    },
    over: (planned, then) => `Wie geplant ist das letzte Rennen um ${planned} vorbei; mit alldem etwa um ${then}.`,
    p90: (time) => `Von zehn solchen Tagen endet einer nach ${time}.`,
    late: (n, by) => `Das ist ${minutes(n)} nach ${by}, bis wann das letzte Rennen vorbei sein muss.`,
    fits: (n, by) => `Das reicht: ${minutes(n)} vor ${by}.`,
    table: 'Was jedes kostet',
    what: 'Was schiefgeht',
    alone: 'Allein kostet es',
    spares: 'Ohne es endet der Tag früher um',
    name: {
      inspection: (of) => `Ein Prüfer für ${f.plural(of.cars ?? 0, { one: '1 Auto', other: '# Autos' })}`,
      'late-start': () => 'Ein Beginn 25 Minuten zu spät',
      'bench-dead': () => 'Ein Stand den ganzen Tag kaputt',
      'adult-missing': (of) =>
        `Ein Erwachsener weniger: ${f.plural(of.adults ?? 1, { one: '1 bleibt', other: '# bleiben' })}`,
    },
  },
  better: {
    title: 'Eine Reihenfolge, mit der der Tag früher endet',
    says: 'Sucht andere Reihenfolgen der wartenden Läufe durch. Was angesagt ist, wird nie vor seiner Zeit aufgerufen und nie viel später.',
    find: 'Eine suchen',
    found: (n) => `Es gibt eine: Das letzte Rennen wäre ${minutes(n)} früher vorbei.`,
    under: 'Das gilt, wenn der Tag so ist, wie oben angenommen. Die Reihenfolge kann trotzdem übernommen werden.',
    none: 'Keine gefunden, die eine Minute spart: Die Reihenfolge bleibt, wie sie ist.',
    apply: 'Diese Reihenfolge übernehmen',
    applied: 'Die Läufe werden jetzt in der neuen Reihenfolge aufgerufen.',
    left: 'Die Reihenfolge bleibt, wie sie ist.',
  },

  caller: {
    title: 'Zum Ansagen',
    link: 'Zum Ansagen',
    back: 'Zum Rennbüro',
    now: 'Jetzt: an die Stände',
    nobody: 'Gerade ist niemand aufgerufen.',
    next: 'Als Nächstes',
    getReady: 'Macht euch bereit',
    paused: 'Der Renntag macht Pause: Niemand wird aufgerufen, und die Zeit der Aufrufe steht still.',
    calledAt: (time) => `aufgerufen um ${time}`,
    left: (time) => `noch ${time}`,
    over: 'die Zeit ist um',
    ready: 'ist da',
    say: (how) => `sprich „${how}“`,
    toBench: (racer, bench) => (bench === undefined ? racer : `${racer} an Stand ${f.number(bench)}`),
    spoken: (heat, racers) => `Aufgerufen: ${heat}. ${f.list(racers)}.`,
  },

  calendar: {
    title: 'Ein Kalender für Familien',
    says: 'Kalenderprogramme folgen dieser Adresse: die Zeiträume der Klassen mit ihren Zeiten „nicht vor“, und keine Namen. Niemand errät sie: Schick oder zeig sie denen, die sie haben sollen.',
    show: 'Die Adresse zeigen',
    address: 'Adresse des Kalenders',
    code: 'Die Adresse des Kalenders als Code für Handys',
    open: 'Den Kalender öffnen',
    local: 'Diese Adresse meint nur dieses Gerät: Handys können sie nicht öffnen.',
  },
};
