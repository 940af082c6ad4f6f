import type { times as English } from '../../en/desk/times';
import { format as f } from '../format';

const minutes = (n: number) => f.plural(n, { one: '1 Minute', other: '# Minuten' });

/** chance says a chance as people say it: "etwa eine Chance von zehn". */
function chance(of: number): string {
  if (of < 0.02) return 'kaum möglich';
  if (of > 0.95) return 'fast sicher';
  if (of > 0.6) return 'eher ja als nein';
  if (of >= 0.4) return 'so gut möglich wie nicht';
  return `etwa in einem von ${f.number(Math.round(1 / of))} Fällen`;
}

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
  },
  pace: (of) =>
    `Gerechnet mit ${f.countdown(of.call_s)} vom Aufruf bis zum Start, ${f.countdown(of.post_s)} vom Ende eines Rennens bis zum Ergebnis, ${f.countdown(of.changeover_s)} bis zum nächsten Aufruf: ${of.from_heats > 0 ? `was üblich ist und was ${f.plural(of.from_heats, { one: 'ein Lauf', other: '# Läufe' })} von heute gezeigt ${of.from_heats === 1 ? 'hat' : 'haben'}` : 'was üblich ist, denn noch ist nichts gefahren'}.`,

  told: (time, finish) => `Um ${time} angesagt: vorbei um ${finish}.`,
  toldNever: 'Noch wurden keine Zeiten angesagt.',
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
