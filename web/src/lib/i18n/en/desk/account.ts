import { format as f } from '../format';

/** Signing in, and the name and the password of an organiser. */
export const account = {
  byKey: 'With a link or a key',
  byName: 'With a name and a password',
  name: 'Name',
  password: 'Password',
  goByName: 'Sign in by name',
  waits: (s: number) => f.plural(s, { one: 'Wait # s', other: 'Wait # s' }),
  stillWaits: (s: number) =>
    f.plural(s, {
      one: 'Wait for one more second, then try again.',
      other: 'Wait for # more seconds, then try again.',
    }),
  tryNow: 'The wait is over: try again.',

  offer: 'Your link was good for this browser alone. With a name and a password you can sign in anywhere.',
  title: 'How you sign in',
  choose: 'Choose a name and a password',
  change: 'Name and password',
  none: 'You came by a link, which is good for one browser. With a name and a password you can sign in on other machines too.',
  has: (name: string, date: string) => `You sign in as “${name}”. The password was set on ${date}.`,
  nameHelp: 'Large and small letters are the same. It is seen by other organisers of the club, not by the public.',
  newPassword: 'New password',
  passwordHelp: 'At least 15 characters: four or five words that nobody would put together.',
  show: 'Show the password',
  chooseIt: 'Keep name and password',
  changeIt: 'Change name and password',
  kept: 'Kept. Other browsers that were signed in with your key are signed out.',
  drop: 'Give the password up',
  dropTitle: 'Give name and password up',
  dropSays:
    'Nobody can sign in with them any more. Browsers that are signed in stay so; afterwards you need a link from another organiser.',
  dropped: 'Name and password are forgotten.',

  sessions: 'Where you are signed in',
  sessionsSays: 'Each browser that is signed in with your key. End what you do not know, and then change the password.',
  endOthers: 'End all others',
  endOthersTitle: 'Sign all other browsers out',
  endOthersSays: 'All browsers that are signed in with your key, but this one, are signed out at once.',
};
