import type { desk as English } from '../en/desk';
import { format as f } from './format';

/** Texts of all pages of the desk; what one of them says stands in desk/. */
export const desk: typeof English = {
  news: (told) => `Zu entscheiden: ${told.join('. ')}.`,
  hours: (opens, closes) =>
    [opens && `die Halle öffnet um ${opens}`, closes && `Schlüsselabgabe um ${closes}`].filter(Boolean).join(', '),
  meanwhile: 'Inzwischen hat sich das in der Halle geändert: Schau noch einmal hin, bevor du weitermachst.',
  wrong: {
    missing: 'Bitte ausfüllen.',
    choose: 'Bitte auswählen.',
    number: 'Bitte eine Zahl eingeben.',
    atLeast: (least) => `Nicht unter ${least}.`,
    atMost: (most) => `Nicht über ${most}.`,
    step: (step) => (step === '1' ? 'Eine ganze Zahl.' : `In Schritten von ${step}.`),
    pattern: 'Nur Buchstaben, Ziffern, Punkte, Binde- und Unterstriche; am Anfang ein Buchstabe oder eine Ziffer.',
  },

  title: 'Rennbüro',
  nav: {
    club: 'Verein',
    meet: 'Dieser Renntag',
    meets: 'Renntage',
    benches: 'Stände',
    keys: 'Schlüssel',
    people: 'Personen',
    now: 'Jetzt',
    times: 'Zeiten',
    entries: 'Anmeldungen',
    programme: 'Programm',
    inspection: 'Abnahme',
    batteries: 'Batterien',
    rulings: 'Entscheidungen',
    compared: 'Vergleich',
    paper: 'Drucke',
    plan: 'Plan',
    practice: 'Übung',
    screen: 'Öffentliche Anzeige',
  },

  signIn: {
    title: 'Anmelden',
    says: 'Das Rennbüro öffnet sich mit einem Link, der einen Schlüssel enthält: scannen, anklicken oder hier einfügen. Der erste wurde beim Start des Servers ausgegeben.',
    token: 'Schlüssel oder ganzer Link',
    button: 'Anmelden',
    wrongRole: (role) =>
      `Du bist angemeldet als: ${role}. Das Rennbüro ist für Leitung und Rennleitung. Melde dich mit einem anderen Schlüssel an.`,
    signedIn: (role) => `Angemeldet: ${role}`,
    out: 'Abmelden',
    again: 'Neu anmelden',
    lost: 'Du bist nicht mehr angemeldet: Dieser Browser wurde abgemeldet, oder sein Schlüssel wurde zurückgenommen oder ist abgelaufen.',
    lostSays:
      'Was du getippt hast, bleibt auf der Seite. Melde dich neu an, dann drücke noch einmal: Nichts geschieht doppelt.',
  },

  cover: {
    key: (key) => `Namen verdecken (${key})`,
    says: 'Für einen Beamer: Nummern statt Namen; keine Geburtsdaten, keine Gründe. Für dieses Fenster, bis es aufgehoben wird. Offene Formulare werden geschlossen.',
    on: (key) =>
      `Verdeckt: Nummern stehen für Namen, auch auf Papier; Geburtsdaten und Gründe sind verborgen. ${key} hebt es auf.`,
    people: 'Die Liste der Personen ist verdeckt.',
    noFile: 'Heb das Verdecken auf, um eine Datei zu speichern: Sie enthält Namen.',
  },

  nothing: { title: 'Hier ist nichts', says: 'Unter dieser Adresse ist keine Seite.', back: 'Zu den Renntagen' },
  savedSince: {
    by: (who, at) => `Um ${at} von ${who} gespeichert, während dies hier offen war.`,
    caption: 'Was sich unterscheidet',
    field: 'Feld',
    mine: 'Deines',
    theirs: 'Jetzt dort',
    nothing: '(nichts)',
    keep: 'Meines behalten',
    take: 'Das andere nehmen',
  },
  loading: 'Der Server wird gefragt …',

  stage: (number, kind) => `Abschnitt ${f.number(number)}: ${kind}`,

  reason: 'Grund',
  reasonText: 'In eigenen Worten',
  reasonTextHelp:
    'Steht außerhalb des Protokolls und wird mit der Person gelöscht. Leer lassen, wenn der Grund alles sagt.',
  choose: 'Auswählen …',
  save: 'Speichern',
  change: 'Ändern',
  none: 'keine',

  notYours: {
    title: 'Nicht mit diesem Schlüssel',
    says: (role) =>
      `Du bist angemeldet als: ${role}. Diese Seite ist für andere: Bitte die Leitung darum, oder um einen anderen Schlüssel.`,
  },
};
