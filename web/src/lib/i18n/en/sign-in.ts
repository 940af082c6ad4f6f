/** Texts of the sign-in on a phone. */
export const signIn = {
  title: 'Who are you?',
  out: 'This phone is not signed in, or its link is not valid any more. Scan the code at the bench, or ask the organiser for a link.',
  keeps: 'What you have pressed is kept and goes out once you are signed in.',
  unreachable:
    'The server cannot be reached. Check that this phone is in the hall’s Wi-Fi; this page tries again by itself.',
  label: 'Link or key',
  help: 'Paste the link here if you got one in a message.',
  need: 'Paste a link or type a key first.',
  go: 'Sign in',
  plain: 'This address is not encrypted: whoever is in the same Wi-Fi can read the key and all that you see here.',
  encrypted: 'Use the encrypted address instead',
};
