/** Texts for a link for somebody else, opened by somebody who is signed in. */
export const offer = {
  who: (role: string, benches: string) => (benches ? `${role} (${benches})` : role),
  says: (theirs: string, ours: string) =>
    `This link is a sign-in as: ${theirs}. This browser is signed in as: ${ours}.`,
  stay: (role: string) => `Stay ${role.toLowerCase()}`,
  change: 'Sign in with the link',
  understood: 'Understood',
};
