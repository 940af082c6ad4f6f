import type { offer as English } from '../en/offer';

/** Texts for a link for somebody else, opened by somebody who is signed in. */
export const offer: typeof English = {
  who: (role, benches) => (benches ? `${role} (${benches})` : role),
  says: (theirs, ours) => `Dieser Link meldet an als: ${theirs}. Dieser Browser ist angemeldet als: ${ours}.`,
  stay: (role) => `Angemeldet bleiben: ${role}`,
  change: 'Mit dem Link anmelden',
  understood: 'Verstanden',
};
