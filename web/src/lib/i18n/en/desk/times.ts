import type { Schema } from '$lib/api';
import { format as f } from '../format';

type HoldsUp = Schema['HoldsUp'];

const minutes = (n: number) => f.plural(n, { one: '1 minute', other: '# minutes' });

/** chance says a chance as people say it: "about one chance in ten". */
function chance(of: number): string {
  if (of < 0.02) return 'hardly any chance';
  if (of > 0.95) return 'almost sure';
  if (of > 0.6) return 'more likely than not';
  if (of >= 0.4) return 'as likely as not';
  return `about one chance in ${f.number(Math.round(1 / of))}`;
}

/** The page of when things will likely be. */
export const times = {
  title: 'Times',
  fits: 'Will the day fit?',
  over: (time: string) => `The last race is likely over at ${time}.`,
  nothingLeft: 'Nothing is left to race.',
  noBench: 'No bench is in service, so nobody can say when the next heat comes.',
  closes: (time: string) => `The hall closes at ${time}.`,
  lastRaceBy: (closes: string, by: string) =>
    `The hall closes at ${closes}: with prizes and packing the last race has to be over by ${by}.`,
  noCloses: 'The plan does not say when the hall closes.',
  spare: (n: number) => `${minutes(n)} to spare.`,
  short: (n: number) => `That is ${minutes(n)} too late.`,
  forecast: (late: string, early: string) =>
    `One day in ten like this one ends before ${early}, one in ten after ${late}.`,
  late: (of: number, by: string) => `Over after ${by}: ${chance(of)}.`,
  holdsUp: {
    benches: (of: HoldsUp) =>
      `Most of the rest goes by in waiting for benches: ${f.plural(of.benches ?? 0, { one: '1 is', other: '# are' })} in service.`,
    car: (of: HoldsUp) =>
      `Most of the rest goes by in waiting for car ${f.number(of.number ?? 0)}: it races often, and rests between.`,
    round: (_: HoldsUp, division: string) =>
      `Most of the rest goes by in waiting for results and protest times of ${division}.`,
    told: () => 'Most of the rest goes by in waiting for the times that were told.',
    leg: (_: HoldsUp, division: string) => `Most of the rest goes by in waiting between the legs of ${division}.`,
  } satisfies Record<HoldsUp['code'], (of: HoldsUp, division: string) => string>,
  pace: (of: Schema['DayPace']) =>
    `Reckoned with ${f.countdown(of.call_s)} from call to start, ${f.countdown(of.post_s)} from the end of a race to its result, ${f.countdown(of.changeover_s)} until the next call: ${of.from_heats > 0 ? `what is usual and what ${f.plural(of.from_heats, { one: 'one heat', other: '# heats' })} of today showed` : 'what is usual, for nothing has raced yet'}.`,

  told: (time: string, finish: string) => `Told at ${time}: over at ${finish}.`,
  toldNever: 'No times were told yet.',
  tell: 'Tell these times',
  tellTitle: 'Tell these times',
  tellSays:
    'Families see “not before” these times on the public screen and on their cars’ pages. A time that was told is never called earlier unless somebody says that all are there; it may become later.',

  next: 'The next heats',
  nextNone: 'No heat waits for its call.',
  likely: (time: string) => `about ${time}`,
  notBefore: (time: string) => `not before ${time}`,
  was: (time: string) => `was ${time}`,
  held: (time: string) => `held until ${time}`,
  ahead: (n: number) => (n === 0 ? 'next' : f.plural(n, { one: '1 heat before it', other: '# heats before it' })),
  benches: (numbers: number[]) =>
    `${numbers.length === 1 ? 'bench' : 'benches'} ${f.list(numbers.map((n) => f.number(n)))}`,
  cars: (numbers: number[]) => f.list(numbers.map((n) => f.number(n))),
  sooner: 'Sooner',
  later: 'Later',
  hold: 'Hold 10 minutes',
  letGo: 'Let go',
  of: (deed: string, heat: string) => `${deed}: ${heat}`,
  moved: (heat: string, place: number) =>
    `${heat} is ${f.ordinal(place, { one: '#st', two: '#nd', few: '#rd', other: '#th' })} now.`,
  more: (n: number) => f.plural(n, { one: 'One more heat is drawn.', other: '# more heats are drawn.' }),

  caller: {
    title: 'For the caller',
    link: 'For the caller',
    back: 'To the desk',
    now: 'Now: to the benches',
    nobody: 'Nobody is called at this moment.',
    next: 'Next',
    getReady: 'Get ready',
    paused: 'The meet is paused: nobody is called, and the time of calls stands still.',
    calledAt: (time: string) => `called at ${time}`,
    left: (time: string) => `${time} left`,
    over: 'time is over',
    ready: 'is there',
    say: (how: string) => `say “${how}”`,
    toBench: (racer: string, bench: number | undefined) =>
      bench === undefined ? racer : `${racer} to bench ${f.number(bench)}`,
    spoken: (heat: string, racers: string[]) => `Called: ${heat}. ${f.list(racers)}.`,
  },

  calendar: {
    title: 'A calendar for families',
    says: 'Calendar programs follow this address: the frames of the divisions with their “not before” times, and no names. Nobody finds it by guessing, so send it or show it to those who are to have it.',
    show: 'Show the address',
    address: 'Address of the calendar',
    code: 'The address of the calendar as a code for phones',
    open: 'Open the calendar',
    local: 'This address names only this machine: phones cannot open it.',
  },

  rounds: 'Rounds of the day',
  division: 'Division',
  round: 'Round',
  heats: 'Heats left',
  from: 'Likely from',
  until: 'Likely until',
  told_: 'Told',
  between: 'Eight days in ten',
  possible: 'if needed',
  waits: 'waits to be closed',
  range: (early: string, late: string) => `${early} to ${late}`,
};
