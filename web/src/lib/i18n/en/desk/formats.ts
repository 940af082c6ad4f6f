import { chance } from '../chance';
import { format as f } from '../format';

const often = (of: number) => f.number(Math.round(of * 10));

/** Other programmes for the day, compared. */
export const formats = {
  title: 'Other programmes for the day',
  says: 'The divisions that are not drawn yet are played some hundred times, as planned and in other forms, with the same made-up cars. Nothing changes until you take one up.',
  benches: 'How many benches there will be',
  adults: 'How many adults will run them',
  compare: 'Compare programmes',
  none: 'No division is left that is not drawn: a programme can only be changed before the first draw.',
  table: 'Programmes compared',
  programme: 'Programme',
  over: 'Last race likely over',
  between: (early: string, late: string) => `eight days in ten: ${early} to ${late}`,
  late: (by: string) => `Over after ${by}`,
  chance,
  best: 'Quickest car wins',
  bestIn: (of: number) => `in ${often(of)} of 10 days`,
  order: 'Right order',
  orderIn: (of: number) => `of ten pairs of cars, ${f.number(of)} stand in the right order`,
  runs: 'Races a child',
  runsSay: (mean: number, least: number) => `${f.number(mean, 1)} on average, ${f.number(least)} at least`,
  wait: 'Longest wait',
  waitSays: (n: number) => f.plural(n, { one: '1 minute', other: '# minutes' }),
  adopt: 'Take it up',
  adoptOf: (name: string) => `Take it up: ${name}`,
  adoptTitle: (name: string) => `Change the programme: ${name}`,
  adoptSays:
    'The stages of these divisions become as they stand here. Everything else of the divisions stays. It can be changed again until the first draw.',
  adopted: (name: string) => `The programme is “${name}” now.`,
  asPlanned: 'as planned now',
  against: {
    'one-race': 'Advised against: somebody goes home after one race.',
    'no-race': 'Advised against: somebody goes home without a race.',
  },
  leftOut: (divisions: string[]) =>
    `Not compared, because their stages cannot be raced by so many: ${f.list(divisions)}.`,
  spread: (cars: number, usual: boolean) =>
    usual
      ? 'How cars differ is taken as usual: too few of the club’s cars have run twice.'
      : `How cars differ is taken from ${f.plural(cars, { one: 'one car', other: '# cars' })} of the club that ran twice or more.`,
  begins: (time: string, benches: number) =>
    `Racing begins at ${time} in all of them, on ${f.plural(benches, { one: '1 bench', other: '# benches' })}.`,
  plot: 'When it ends, and how often the quickest car wins',
  plotSays: 'To the left it ends sooner, higher up the quickest car wins more often.',
  plotX: 'Length of the racing',
  plotY: 'Quickest car wins, of 100 days',
  fine: 'Everybody races at least twice',
  advised: 'Advised against',
  name: {
    planned: 'As planned',
    'timed-3': 'Three timed rounds',
    'timed-5': 'Five timed rounds',
    'timed-knockout': 'Timed rounds, then knockout',
    knockout: 'Knockout',
    'knockout-plate': 'Knockout with a plate',
    'two-defeats': 'Out after two defeats',
    'groups-knockout': 'Groups, then knockout',
    swiss: 'Swiss rounds',
    heats: 'Heats of many',
  } as Record<string, string>,
};
