import type { shared as English } from '../en/shared';
import { format as f } from './format';

const nth = (n: number) => f.ordinal(n, { other: '#.' });

/** Texts of lib: what more than one face says. */
export const shared: typeof English = {
  name: 'Benchmeet',
  skip: 'Zum Inhalt springen',
  back: 'Zurück',
  cancel: 'Abbrechen',
  look: { paper: 'Helle Ansicht', ink: 'Dunkle Ansicht' },
  working: 'Einen Moment …',
  notLoaded: 'Diese Seite konnte nicht geladen werden. Prüfe das WLAN und lade sie dann neu.',
  loadAgain: 'Neu laden',
  needed: 'nötig',

  api: {
    unreachable: 'Der Server ist nicht erreichbar. Prüfe das WLAN und drücke noch einmal: Nichts geschieht doppelt.',
    strange:
      'Etwas anderes als der Server hat geantwortet, vielleicht eine Anmeldeseite des WLANs. Prüfe, ob dieses Gerät im WLAN der Halle ist, und drücke dann noch einmal: Nichts geschieht doppelt.',
    alreadyDone: (time) =>
      `Das war schon beim ersten Druck um ${time} erledigt; nur die Antwort ging verloren. Drücke nur dann noch einmal, wenn es ein zweites Mal geschehen soll.`,
    unknown: (status) => `Der Server gab eine Antwort, die diese Seite nicht kennt (${status}). Lade die Seite neu.`,
    broken: 'Auf dieser Seite ging etwas schief. Lade sie neu, und sag der Leitung Bescheid, wenn es so bleibt.',
  },

  live: {
    connecting: 'Verbindung wird aufgebaut …',
    on: 'Live',
    never: (since) => `Der Server ist seit ${since} nicht erreichbar. Diese Seite versucht es von selbst weiter.`,
    cutOff: (since) =>
      `Getrennt seit ${since}. Was du siehst, ist von da; es geht von selbst weiter, sobald das Netz wieder da ist.`,
  },

  bench: (number) => `Stand ${number}`,
  startNumber: (number) => `Startnummer ${number}`,
  place: nth,
  inBand: (n, division) => `${nth(n)} in ${division}`,
  heat: (number) => `Lauf ${f.number(number)}`,
  round: (number) => `Durchgang ${f.number(number)}`,
  rerun: 'Wiederholung',

  curve: 'Kurve',
  curveOf: (who) => `Kurve der Fahrt von ${who}`,

  placeOf: (place, heat) => `${nth(place)} aus: ${heat}`,
  nextBest: (n, round) => `Nächstbester ${f.number(n)} aus Durchgang ${f.number(round)}`,
  thirdPlace: 'Lauf um Platz 3',
  inDivision: (division, heat) => `${division}: ${heat}`,

  units: {
    metres: 'Meter',
    m: 'm',
    kmh: 'km/h',
    rpm: 'U/min',
    with: (value, unit) => (unit ? `${value} ${unit}` : value),
    seconds: 's',
    points: (n, over = 1) =>
      over === 1
        ? f.plural(n, { one: '# Punkt', other: '# Punkte' })
        : `${f.number(n / over, over === 2 ? 1 : 2)} Punkte`,
    laps: (n) => f.plural(n, { one: '# Runde', other: '# Runden' }),
    lapsWord: (n) => f.plural(n, { one: 'Runde', other: 'Runden' }),
    duration: (s) =>
      s % 60 === 0 && s > 0
        ? f.plural(s / 60, { one: '# Minute', other: '# Minuten' })
        : f.plural(s, { one: '# Sekunde', other: '# Sekunden' }),
  },
  plusMinus: (half) => `± ${half}`,
  decider: (m) => `Entscheidungslauf ${m} m`,
};
