import type { figures as English } from '../en/figures';

/** Texts that explain figures of results. */
export const figures: typeof English = {
  corrected: {
    sign: 'für seinen Stand berichtigt',
    read: (m) => `gemessen ${m} m`,
    because: (m) => `Für seinen Stand berichtigt, der ${m} m gemessen hat.`,
    means:
      '† für seinen Stand berichtigt: geteilt durch das, was der Stand im Vergleich zum Schnitt aller Stände misst. Das Blatt des Autos zeigt beide Werte.',
    both: '† für seinen Stand berichtigt: was der Stand gemessen hat, geteilt durch das, was er im Vergleich zum Schnitt aller Stände misst.',
  },
  plusMinusMeans: '± sagt, wie weit die wahre Strecke nach beiden Seiten danebenliegen kann, in 95 von 100 Fahrten.',
};
