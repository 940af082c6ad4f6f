import type { measureAgain as English } from '../../en/desk/measure-again';
import { format as f } from '../format';

/** Measuring the runs of a bench again under other settings. */
export const measureAgain: typeof English = {
  open: 'Neu auswerten',
  openLabel: (n) => `Neu auswerten: Stand ${f.number(n)}`,
  title: (n) => `Neu auswerten: Stand ${f.number(n)}`,
  says: 'Waren die Einstellungen dieses Stands falsch, stell sie auf der Seite der Stände richtig, übernimm sie neu in den Renntag und werte seine Fahrten aus den aufgehobenen Impulsen neu aus. Es ist eine Entscheidung: Offizielle Ergebnisse ändern sich durch eine nummerierte Berichtigung.',
  confirm: 'Neu auswerten',
  nothing: (n) =>
    `${f.plural(n, { one: 'Eine Fahrt dieses Stands wurde angesehen', other: '# Fahrten dieses Stands wurden angesehen' })}: Keine würde sich ändern.`,
  some: (n, of) =>
    of === 1
      ? 'Die eine Fahrt dieses Stands würde sich ändern.'
      : `${f.number(n)} von ${f.number(of)} Fahrten würden sich ändern.`,
  changes: 'Was sich ändern würde',
  noCar: 'Eine Fahrt ohne Auto',
  was: 'Jetzt',
  wouldBe: 'Neu ausgewertet',
};
