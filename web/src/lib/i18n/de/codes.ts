import type { codes as English } from '../en/codes';

/** The words for codes of the API that every face says. */
export const codes: typeof English = {
  role: {
    organiser: 'Leitung',
    official: 'Rennleitung',
    referee: 'Schiedsgericht',
    inspector: 'Abnahme',
    volunteer: 'Standhilfe',
    box: 'Zählkasten',
    public: 'Gast',
  },

  phase: {
    drawn: 'Kommt noch',
    called: 'Aufgerufen',
    racing: 'Läuft',
    provisional: 'Kann sich noch ändern',
    official: 'Offiziell',
  },

  laneState: {
    waiting: 'Wartet',
    called: 'Aufgerufen',
    ready: 'Bereit',
    racing: 'Fährt',
    done: 'Fertig',
  },

  status: {
    'did-not-start': 'Nicht gestartet',
    'did-not-finish': 'Nicht im Ziel',
    disqualified: 'Disqualifiziert',
    withdrawn: 'Fährt nicht mehr mit',
  },

  source: {
    bench: 'Am Stand gemessen',
    hand: 'Von Hand gezählt',
  },

  reason: {
    'bench-fault': 'Fehler am Stand',
    'missed-pulses': 'Fehlende Impulse',
    power: 'Stromausfall',
    'volunteer-error': 'Ein Versehen am Stand',
    'outside-interference': 'Jemand oder etwas kam dazwischen',
    'off-rollers': 'Das Auto ist von den Rollen gesprungen',
    stalled: 'Das Auto ist stehen geblieben',
    'false-start': 'Fehlstart',
    'wrong-car': 'Das falsche Auto stand am Stand',
    'not-there': 'Beim Aufruf nicht da',
    'car-not-legal': 'Das Auto ist so nicht erlaubt',
    conduct: 'Wie sich jemand benahm',
    protest: 'Ein Einspruch hatte recht',
    family: 'Etwas in der Familie',
    tie: 'Gleichstand',
    time: 'Die Zeit ist knapp',
    'benches-differ': 'Die Stände messen nicht gleich',
    alarm: 'Alarm',
    lunch: 'Mittagspause',
    'car-changed': 'Das Auto wurde verändert',
    other: 'Ein anderer Grund',
  },

  heatPurpose: {
    final: 'Finale',
    'second-final': 'Zweites Finale',
    'third-place': 'Lauf um Platz 3',
    'plate-final': 'Trostfinale',
    'b-final': 'B-Finale',
  },
};
