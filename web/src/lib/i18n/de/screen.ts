import type { screen as English } from '../en/screen';
import { format as f } from './format';

/** Texts of the public screen: words that a family understands. */
export const screen: typeof English = {
  seen: {
    hall: 'Wer gerade fährt, wer an einen Stand gerufen ist, und die neuesten Ergebnisse.',
    standings: (division) => `So steht es bei ${division}, die Besten zuerst.`,
    bracket: (division) => `Wer bei ${division} gegen wen fährt, Durchgang für Durchgang.`,
    run: 'Eine Fahrt: wie schnell sie war, von Augenblick zu Augenblick.',
    practice: 'Übungsfahrten, die neuesten zuerst. Sie zählen nicht.',
    choose: 'Wähle einen Renntag, oder schau auf die Übungstafel.',
  },

  choose: {
    title: 'Renntage',
    none: 'Noch ist kein Renntag geplant. Sobald einer geplant ist, steht er hier.',
    practice: 'Übungstafel',
    which: 'Welcher Verein?',
    shared: 'Hier fahren mehrere Vereine. Scanne den Code deines Vereins, oder öffne den ganzen Link von ihm.',
  },

  noMeet: {
    title: 'Diesen Renntag gibt es nicht',
    sentence: 'Unter dieser Adresse ist kein Renntag. Wähle einen aus der Liste.',
    back: 'Zur Liste der Renntage',
  },
  noPage: {
    title: 'Hier ist nichts',
    sentence: 'Unter dieser Adresse ist keine Seite.',
  },
  noDivision: {
    title: 'Diese Klasse gibt es nicht',
    sentence: 'Dieser Renntag hat keine solche Klasse.',
    back: 'Zum Renntag',
  },
  waiting: 'Warten auf den Server …',
  dayAndPlace: ({ date, place }) => [f.date(date), place].filter(Boolean).join(', '),
  print: 'Blatt drucken',
  printPage: 'Drucken',

  racing: {
    title: 'Es fahren',
    none: 'Gerade fährt niemand.',
    left: (time) => `noch ${time}`,
    ended: 'Zeit ist um',
    leads: 'führt',
    waitsForRun: 'wartet auf den Stand',
  },
  called: {
    title: 'Komm zu deinem Stand',
    none: 'Kein Lauf ist aufgerufen.',
    within: (time) => `noch ${time}`,
    over: 'jetzt!',
    ready: 'bereit',
    pack: (pack) => `nimm Batteriepack ${pack}`,
  },
  next: {
    title: 'Mach dich bereit',
    none: 'Es sind keine weiteren Läufe ausgelost.',
    over: 'Alle Rennen des Tages sind gefahren.',
    about: (time) => `etwa ${time}`,
    soon: 'bald',
    late: (minutes) => `Der Tag ist etwa ${f.number(minutes)} Minuten später als angesagt.`,
    more: (heats) => f.plural(heats, { one: 'und # weiterer Lauf', other: 'und # weitere Läufe' }),
    moreCars: (cars) =>
      f.plural(cars, { one: 'und # weiteres Auto dieses Laufs', other: 'und # weitere Autos dieses Laufs' }),
  },
  results: {
    title: 'Neueste Ergebnisse',
    none: 'Noch kein Ergebnis. Das erste kommt nach dem ersten Lauf.',
    provisional: (until) => `kann sich bis ${until} ändern`,
    provisionalOver: 'kann sich noch ändern',
    official: 'offiziell',
    byHand: 'von Hand gezählt',
    penalty: (metres) => `nach ${metres} m Strafe`,
  },
  standings: {
    title: 'Rangliste',
    none: 'Noch keine Rangliste. Sie beginnt mit dem ersten Ergebnis.',
    noneYet: 'Noch kein Ergebnis.',
    turn: (n, of) => `${f.number(n)} von ${f.number(of)}`,
    places: (from, to) => `Plätze ${f.number(from)} bis ${f.number(to)}`,
    hold: 'Anhalten',
    holdLong: 'Die gezeigte Rangliste anhalten',
    place: 'Platz',
    racer: 'Auto',
    result: 'Ergebnis',
    race: (round) => `Rennen ${f.number(round)}`,
    stage: (kind, rule) => (rule ? `${kind}: ${rule}` : kind),
    note: 'Hinweis',
    winner: 'gewonnen',
    winnerYet: 'gewonnen, kann sich noch ändern',
    inIt: 'fährt noch mit',
    unranked: '–',
    unrankedSpoken: 'kein Platz',
    tooClose: (numbers) =>
      `zu knapp neben ${numbers.length === 1 ? 'Nummer' : 'den Nummern'} ${f.list(numbers.map((n) => f.number(n)))}`,
    state: (final, published) =>
      published > 1
        ? `Offiziell, Berichtigung ${f.number(published - 1)}`
        : published === 1
          ? 'Offiziell'
          : final
            ? 'Kann sich noch ändern'
            : 'So steht es jetzt',
    changed: 'Seitdem geändert, noch nicht offiziell',
    together: (names) => `Fährt zusammen mit ${names}; jede Klasse hat ihre eigenen Plätze.`,
    among: (division, host) => `Fährt zusammen mit ${host}; dies sind die Plätze innerhalb von ${division}.`,
    all: 'Ganze Tabelle',
    bracket: 'Durchgänge',
  },

  practice: {
    title: 'Übung',
    none: 'Noch keine Übungsfahrt. Frag an einem freien Stand.',
    start: 'Einen Stand mit diesem Gerät bedienen',
    now: 'An den Ständen',
    noneNow: 'Kein Stand läuft.',
    runs: 'Übungsfahrten',
    at: 'Uhrzeit',
    bench: 'Stand',
    car: 'Auto',
    noCar: 'keine Nummer',
    distance: 'Strecke',
    laps: 'Runden',
    mean: 'Tempo im Schnitt',
    top: 'Höchsttempo',
    lasted: 'Dauer',
    roller:
      'Das Tempo ist das der Rolle unter den Rädern. Auf dem Stand gibt es keinen Fahrtwind, deshalb ist ein Auto auf einer Bahn langsamer.',
  },

  paused: {
    title: 'Der Renntag macht Pause',
    because: (reason) => `Grund: ${reason}.`,
    wait: 'Dein Aufruf wartet auf dich: Seine Zeit steht still.',
  },

  meet: {
    back: 'Renntag',
    cars: 'Alle Autos',
    find: 'Finde dein Auto',
    rules: 'Regeln',
    pages: 'Seiten dieses Renntags',
    standingsOf: (division) => `Rangliste ${division}`,
    roundsOf: (division) => `Durchgänge ${division}`,
    phone: (address) => `Auf deinem Handy: ${address}`,
    checkCode: (code) => `Prüfcode ${code}`,
    checkCodeMeans:
      'Der Prüfcode ändert sich mit allem, was aufgeschrieben wird. Zwei Bildschirme mit demselben Code zeigen dasselbe.',
  },
};
