import type { trust as English } from '../../en/screen/trust';

/** Texts of the page about https. Where phones have their settings is common practice; they differ. */
export const trust: typeof English = {
  title: 'Die verschlüsselte Adresse',
  seen: 'Wem dieses Handy einmal vertrauen muss, und wie man das zurücknimmt',
  waiting: 'Einen Moment.',
  none: 'Dieser Server hat keine verschlüsselte Adresse. Wer im selben WLAN ist, kann die Schlüssel und Namen lesen, die gesendet werden. Die Leitung kann ihn mit --tls local starten.',
  trusted: 'Handys vertrauen diesem Server schon. Öffne seine verschlüsselte Adresse:',
  why: 'Über die verschlüsselte Adresse kann niemand im WLAN Schlüssel und Namen lesen oder an Stelle des Servers antworten, und die Seite des Stands öffnet sich auch ohne Netz. Dafür muss ein Handy diesem Server einmal vertrauen. Niemand muss: Die Adresse ohne Verschlüsselung bleibt offen.',
  limits: (name, ends) =>
    `Dem du vertraust, heißt „${name}“. Es kann für diesen einen Computer sprechen und für keine andere Seite, und es endet am ${ends}.`,
  onThisPhone: 'Auf diesem Handy',
  steps: [
    'Lade das Zertifikat mit der Taste unten. Das Handy warnt vielleicht davor: Vergleiche zuerst den Fingerabdruck.',
    'Android, in der Regel: Einstellungen, Sicherheit, Verschlüsselung und Anmeldedaten, Zertifikat installieren, CA-Zertifikat; die Datei wählen.',
    'iOS, in der Regel: Einstellungen, „Profil geladen“, Installieren; dann Allgemein, Info, Zertifikatsvertrauenseinstellungen: einschalten.',
    'Auf einem Laptop: Einstellungen des Browsers, Zertifikate, Zertifizierungsstellen, Importieren; nur für Websites vertrauen.',
    'Öffne unten die verschlüsselte Adresse. Für das Handy ist es eine andere Adresse: Melde dich dort noch einmal an.',
  ],
  load: 'Zertifikat laden',
  compare: 'Der Fingerabdruck (SHA-256) muss der sein, den der Server beim Start ausgegeben hat:',
  open: 'Die verschlüsselte Adresse',
  code: 'Code der verschlüsselten Adresse',
  thisPage: 'Diese Seite, für andere Handys',
  codeOfThisPage: 'Code dieser Seite',
  before:
    'Meldungen, die ein Handy unter der Adresse ohne Verschlüsselung aufgehoben hat, werden von dort gesendet: Öffne jene noch einmal, bevor du endgültig wechselst.',
  away: 'Zurücknehmen',
  awaySteps: [
    'Android, in der Regel: Einstellungen, Sicherheit, Verschlüsselung und Anmeldedaten, Nutzeranmeldedaten; auswählen und entfernen.',
    'iOS, in der Regel: Einstellungen, Allgemein, VPN und Geräteverwaltung; das Profil wählen und entfernen.',
    'Auf einem Laptop: Einstellungen des Browsers, Zertifikate, Zertifizierungsstellen; auswählen und löschen.',
    'Tut es niemand, endet es von selbst am oben genannten Tag.',
  ],
};
