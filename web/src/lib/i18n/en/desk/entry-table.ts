import { format as f } from '../format';

/** Entries from a table and as one. */
export const entryTable = {
  title: 'Entries from a table',
  link: 'From a table',
  out: 'Save as CSV',
  back: 'All entries',

  source: 'The list',
  sourceSays:
    'Copy the rows with their line of heads from a spreadsheet and paste them, or choose a CSV file. Nothing is entered before you have looked at it.',
  paste: 'Paste the list',
  file: 'Or a CSV file',
  fileHelp: 'Separated by comma, semicolon or tab.',
  fileLarge: 'This file is too large for a list of entries: leave out what is not needed, or take it in parts.',
  division: 'Division of rows that name none',
  divisionNone: 'Every row names its own',
  heads: 'Which heads are known',
  headsSay: (list: string[]) =>
    `In any order, in English or German: ${f.list(list)}. Only a name is needed. Dates are 31.12.2017 or 2017-12-31; numbers that are left empty are the next free ones; consents are yes or no, each in its own column, or named in one.`,
  look: 'Look at it',

  looked: 'What would be entered',
  counts: (good: number, bad: number) =>
    bad === 0
      ? `${f.plural(good, { one: '# row', other: '# rows' })}, all of them right.`
      : `${f.plural(bad, { one: '# row has a mistake', other: '# rows have mistakes' })}, ${f.number(good)} are right. Put them right here; the list is looked at again by itself.`,
  noRows: 'No row could be read.',
  at: (line: number, column: number) => `Line ${f.number(line)}, column ${f.number(column)}`,
  line: 'Line',
  means: (head: string) => `What “${head}” is`,
  cell: (head: string, line: number) => `${head}, line ${f.number(line)}`,
  extra: 'Too much',
  now: 'right now',
  change: 'Change',
  changeLabel: (line: number) => `Change line ${f.number(line)}`,
  leaveOut: 'Leave out',
  leaveOutLabel: (line: number) => `Leave out line ${f.number(line)}`,
  becomes: 'Becomes',
  years: (n: number) => f.plural(n, { one: '# year', other: '# years' }),
  racesUp: 'races up',
  late: 'late',
  known: 'the club knows this person',
  take: (n: number) => f.plural(n, { one: 'Take # entry', other: 'Take # entries' }),
  notYet: (n: number) => f.plural(n, { one: '# row is still wrong.', other: '# rows are still wrong.' }),
  taken: (n: number) => f.plural(n, { one: '# entry is taken.', other: '# entries are taken.' }),
  another: 'Take another list',

  columns: {
    number: 'Number',
    division: 'Division',
    nickname: 'Nickname',
    name: 'Name',
    'first-name': 'First name',
    'last-name': 'Last name',
    'birth-date': 'Date of birth',
    club: 'Club',
    'say-as': 'How to say it',
    'on-screen': 'On screens',
    'in-results': 'In results',
    photo: 'Photographs',
    consents: 'Consents',
    unused: 'Left out',
  },
};
