/** Texts of the page about https. Where phones have their settings is common practice; they differ. */
export const trust = {
  title: 'The encrypted address',
  seen: 'What this phone has to trust once, and how to take it back',
  waiting: 'One moment.',
  none: 'This server has no encrypted address. Whoever is in the same Wi-Fi can read the keys and names that are sent. The organiser can start it with --tls local.',
  trusted: 'Phones trust this server already. Open its encrypted address:',
  why: 'Over the encrypted address nobody in the Wi-Fi can read keys and names or answer in the server’s place, and the bench page opens without network too. A phone has to trust this server for that, once. Nobody has to: the address without encryption stays open.',
  limits: (name: string, ends: string) =>
    `What you trust is called “${name}”. It can speak for this one computer and for no other site, and it ends on ${ends}.`,
  onThisPhone: 'On this phone',
  steps: [
    'Load the certificate with the button below. The phone may warn about it: compare the fingerprint first.',
    'Android, as a rule: Settings, Security, Encryption and credentials, Install a certificate, CA certificate; choose the file.',
    'iOS, as a rule: Settings, “Profile downloaded”, Install; then General, About, Certificate trust settings: switch it on.',
    'On a laptop: the browser’s settings, Certificates, Authorities, Import; trust it for websites alone.',
    'Open the encrypted address below. It is another address for the phone: sign in there once more.',
  ],
  load: 'Load the certificate',
  compare: 'The fingerprint (SHA-256) has to be the one that the server printed at its start:',
  open: 'The encrypted address',
  code: 'Code of the encrypted address',
  thisPage: 'This page, for other phones',
  codeOfThisPage: 'Code of this page',
  before:
    'Orders that a phone has kept under the address without encryption are sent from there: open that one again before you change for good.',
  away: 'Take it back',
  awaySteps: [
    'Android, as a rule: Settings, Security, Encryption and credentials, User credentials; choose it and remove it.',
    'iOS, as a rule: Settings, General, VPN and device management; choose the profile and remove it.',
    'On a laptop: the browser’s settings, Certificates, Authorities; choose it and delete it.',
    'If nobody does, it ends by itself on the day above.',
  ],
};
