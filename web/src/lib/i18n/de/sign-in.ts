import type { signIn as English } from '../en/sign-in';

/** Texts of the sign-in on a phone. */
export const signIn: typeof English = {
  title: 'Wer bist du?',
  out: 'Dieses Handy ist nicht angemeldet, oder sein Link gilt nicht mehr. Scanne den Code am Stand, oder frag die Leitung nach einem Link.',
  keeps: 'Was du gedrückt hast, ist aufgehoben und geht hinaus, sobald du angemeldet bist.',
  unreachable:
    'Der Server ist nicht erreichbar. Prüfe, ob dieses Handy im WLAN der Halle ist; diese Seite versucht es von selbst weiter.',
  label: 'Link oder Schlüssel',
  help: 'Füge den Link hier ein, wenn du ihn in einer Nachricht bekommen hast.',
  need: 'Füge zuerst einen Link ein oder tippe einen Schlüssel.',
  go: 'Anmelden',
  plain:
    'Diese Adresse ist nicht verschlüsselt: Wer im selben WLAN ist, kann den Schlüssel lesen und alles, was du hier siehst.',
  encrypted: 'Stattdessen die verschlüsselte Adresse benutzen',
};
