import type { ruleCodes as English } from '../en/rule-codes';

/** The words for codes of the rules of a meet. */
export const ruleCodes: typeof English = {
  tie: {
    shared: 'Der Platz wird geteilt',
    'next-best': 'Die nächstbeste Fahrt entscheidet',
    decider: 'Sie fahren noch einmal',
  },

  close: {
    say: 'Die längere Strecke entscheidet, und die Seite sagt, dass es knapp war',
    decider: 'Die beiden fahren einen Entscheidungslauf',
  },

  didNotFinish: {
    'keep-distance': 'Behält die Strecke, die es hat',
    'no-result': 'Hat kein Ergebnis',
  },

  benchPolicy: {
    report: 'Es wird gesagt',
    correct: 'Die Ergebnisse werden zu festen Zeitpunkten berichtigt',
    'take-out': 'Der Stand wird herausgenommen',
  },

  late: {
    no: 'Nach der Auslosung darf niemand mehr dazu',
    'next-round': 'Wer später kommt, startet im nächsten Durchgang auf Zeit',
  },

  handCounts: {
    ranks: 'Handzählungen zählen für die Rangliste',
    shown: 'Handzählungen werden gezeigt und zählen nicht für die Rangliste',
  },

  gate: {
    off: 'Nichts',
    warn: 'Es wird gezeigt, und das Auto fährt',
    hold: 'Das Auto wartet, bis es in Ordnung ist oder die Rennleitung es fahren lässt',
  },

  chemistry: {
    alkaline: 'Alkali-Mangan',
    'zinc-carbon': 'Zink-Kohle',
    lithium: 'Lithium',
    'nickel-metal-hydride': 'Nickel-Metallhydrid',
  },

  incident: {
    'off-rollers': 'Auto von den Rollen gesprungen',
    stalled: 'Stehen geblieben',
    'false-start': 'Fehlstart',
    'bench-failed': 'Stand ausgefallen',
  },

  consequence: {
    'keep-distance': 'Strecke bleibt',
    'rerun-lane': 'Bahn wird wiederholt',
    'rerun-heat': 'Lauf wird wiederholt',
    'did-not-finish': 'Nicht im Ziel',
  },
  task: {
    'set-up': 'Aufbau',
    'bench-check': 'Prüfung der Stände',
    practice: 'Training',
    briefing: 'Besprechung',
    lunch: 'Mittag',
    prizes: 'Siegerehrung',
    packing: 'Aufräumen',
  },
};
