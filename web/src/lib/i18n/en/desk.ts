import { format as f } from './format';

/** Texts of all pages of the desk; what one of them says stands in desk/. */
export const desk = {
  news: (told: string[]) => `To decide: ${told.join('. ')}.`,
  /** When the hall opens and when it has to be empty, as far as that is planned. */
  hours: (opens: string | undefined, closes: string | undefined) =>
    [opens && `hall opens at ${opens}`, closes && `keys go back at ${closes}`].filter(Boolean).join(', '),
  meanwhile: 'Meanwhile this has changed in the hall: look at it again before you go on.',
  /** What is wrong with a field by its own rules. */
  wrong: {
    missing: 'Fill this in.',
    choose: 'Choose one.',
    number: 'Type a number.',
    atLeast: (least: string) => `Not below ${least}.`,
    atMost: (most: string) => `Not above ${most}.`,
    step: (step: string) => (step === '1' ? 'A whole number.' : `In steps of ${step}.`),
    pattern: 'Only letters, digits, dots, hyphens and underscores, beginning with a letter or digit.',
  },

  title: 'Desk',
  nav: {
    club: 'Club',
    meet: 'This meet',
    meets: 'Meets',
    benches: 'Benches',
    keys: 'Keys',
    people: 'People',
    now: 'Now',
    times: 'Times',
    entries: 'Entries',
    programme: 'Programme',
    inspection: 'Inspection',
    batteries: 'Batteries',
    rulings: 'Rulings',
    compared: 'Comparison',
    paper: 'Paper',
    plan: 'Plan',
    practice: 'Practice',
    screen: 'Public screen',
  },

  signIn: {
    title: 'Sign in',
    says: 'The desk opens with a link that carries a key: scan it, click it, or paste it here. The first one was printed when the server was started.',
    token: 'Key, or the whole link',
    button: 'Sign in',
    wrongRole: (role: string) =>
      `You are signed in as: ${role}. The desk is for organisers and officials. Sign in with another key.`,
    signedIn: (role: string) => `Signed in as ${role.toLowerCase()}`,
    out: 'Sign out',
    again: 'Sign in again',
    lost: 'You are no longer signed in: this browser was signed out, or its key was taken back or has run out.',
    lostSays: 'What you typed stays on the page. Sign in again, then press again: nothing is done twice.',
  },

  /** The key that covers names while others look on. */
  cover: {
    key: (key: string) => `Cover names (${key})`,
    says: 'For a projector: numbers in place of names; no birth dates, no reasons. For this tab, until it is taken off. Open forms are closed.',
    on: (key: string) =>
      `Covered: numbers stand for names, also on paper; birth dates and reasons are hidden. ${key} takes the cover off.`,
    people: 'The list of people is covered.',
    noFile: 'Take the cover off to save a file: it has names in it.',
  },

  nothing: { title: 'Nothing here', says: 'There is no page at this address.', back: 'To the meets' },
  notYours: {
    title: 'Not with this key',
    says: (role: string) =>
      `You are signed in as: ${role}. This page is for others: ask the organiser to do it, or for another key.`,
  },
  savedSince: {
    by: (who: string, at: string) => `Saved by ${who} at ${at}, while this was open here.`,
    caption: 'What differs',
    field: 'Field',
    mine: 'Yours',
    theirs: 'Now there',
    nothing: '(nothing)',
    keep: 'Keep mine',
    take: 'Take theirs',
  },
  loading: 'Asking the server …',

  stage: (number: number, kind: string) => `Stage ${f.number(number)}: ${kind.toLowerCase()}`,

  /** On all forms. */
  reason: 'Reason',
  reasonText: 'In your own words',
  reasonTextHelp: 'Kept outside the log and erased with the person. Leave it empty if the reason says it all.',
  choose: 'Choose …',
  save: 'Save',
  change: 'Change',
  none: 'none',
};
