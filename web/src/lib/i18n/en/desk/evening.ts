import { format as f } from '../format';

/** Item is something to look after; `commands` are typed in a terminal beside the program. */
interface Item {
  says: string;
  commands?: string[];
}

/** The evening before a race day. */
export const evening = {
  title: 'The evening before',

  address: 'Where the codes work',
  onlyAt: (address: string) =>
    `All codes and links of this print work only at ${address}. Another router gives this laptop another address: bring your own router and use it tonight, or print in the hall.`,
  test: 'Test it with one phone before anything is printed: phone in the same Wi-Fi, scan this code, and the page of the race day opens.',
  testCode: 'Code of the page of this race day, to test with a phone',
  local: (address: string) =>
    `The only known address is ${address}, which names this machine alone: no phone can open it. Join the network, have the server listen on it, and load this page again before codes are printed.`,

  keys: 'Keys for volunteers',
  keysSays:
    'Keys are kept as hashes, so only those that are made now can be printed: one for each bench, good until the end of the race day. Who has the paper has the key; it can be taken back under Keys.',
  keysOrganiser: 'Only an organiser can make keys.',
  keysNoBench: 'No bench is in the meet yet: bring them in on the page of the plan.',
  makeKeys: (n: number) => f.plural(n, { one: 'Make # key for this print', other: 'Make # keys for this print' }),
  keysMade: (n: number) =>
    `${f.plural(n, { one: '# key is', other: '# keys are' })} made and in the print below. Leave this page and they are gone.`,

  print: 'Print',
  printSays:
    'Checklist, start lists, roll-call, keys, pictures, rules, cautions, plates, pocket cards, and the first round where it is drawn.',
  printWithoutKeys:
    'Checklist, start lists, roll-call, pictures, rules, cautions, plates, pocket cards, and the first round where it is drawn. No keys: none is made yet.',
  printAll: 'Print everything for tomorrow',

  keySheet: 'Keys for volunteers',
  keySheetSays: 'Cut them apart and hand each to whom it is meant for. Never hang one up.',
  keyCode: (label: string) => `Code of the key: ${label}`,
  opens: (benches: number[]) =>
    `Opens the bench page of ${benches.length === 1 ? 'bench' : 'benches'} ${f.list(benches.map((n) => f.number(n)))}, and nothing else.`,
  ends: (date: string | undefined) => (date ? `Good until the end of ${date}.` : 'Good until it is taken back.'),
  onlyThere: (address: string) => `Works only at ${address}.`,

  listSays: 'Tick what is done. The usual care; the rules of the place and the people in charge come first.',
  list: (address: string): { title: string; items: Item[] }[] => [
    {
      title: 'The laptop',
      items: [
        { says: 'Sleep is off, on mains and on battery, for the whole day.' },
        { says: 'Closing the lid does nothing.' },
        { says: 'Updates wait until the day after, restarts too.' },
        { says: 'The power lead is packed, with an extension lead; no cable lies where children run.' },
        { says: 'The screen can be read where it will stand; no notices or mail come up on a projector.' },
      ],
    },
    {
      title: 'The network',
      items: [
        {
          says: `The codes on paper work only at ${address}: the same router comes along, or they are printed in the hall.`,
        },
        { says: 'One phone has opened the race day and one key by its code.' },
        { says: 'One counter box has sent a practice run.' },
      ],
    },
    {
      title: 'A copy on a stick',
      items: [
        {
          says: 'Copy the data, also while the server runs; put the folder of your stick in place of STICK.',
          commands: ['benchmeet backup STICK/evening.db'],
        },
        {
          says: 'Check the copy: it must end without a problem, with as many events as you expect.',
          commands: ['benchmeet verify STICK/evening.db'],
        },
        {
          says: 'Check that it can be restored: bring it into a new folder, look, and delete the folder again.',
          commands: ['benchmeet import STICK/evening.db --data restore-check', 'benchmeet verify --data restore-check'],
        },
        {
          says: 'The stick holds names: it stays with the organiser, and the copy is deleted by the day that evening.db.json names.',
        },
      ],
    },
    {
      title: 'Things',
      items: [
        { says: 'Paper, pencils, a clock for each bench, and this print.' },
        { says: 'Spare cells, a meter, a tray for cells that are hot or damaged, away from what burns.' },
        { says: 'First aid, and who is in charge of it; where the exits are.' },
      ],
    },
  ],
};
