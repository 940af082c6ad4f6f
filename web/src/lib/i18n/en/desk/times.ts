import type { Schema } from '$lib/api';
import { chance } from '../chance';
import { format as f } from '../format';
import { ruleCodes } from '../rule-codes';

type HoldsUp = Schema['HoldsUp'];
type Why = Schema['MoveWhy'];
type CutCode = Schema['CutCode'];
type Hitch = Schema['HitchCost']['code'];

const minutes = (n: number) => f.plural(n, { one: '1 minute', other: '# minutes' });

/** reasons are what a heat waits for, as they stand behind "waits for". */
const reasons: Record<Why['code'], (of: Why, division: string, heat: string | undefined) => string> = {
  benches: (of, _, heat) =>
    `a free bench, of ${f.number(of.benches ?? 0)} in service${heat === undefined ? '' : `, after ${heat}`}`,
  car: (of, _, heat) =>
    heat === undefined
      ? `car ${f.number(of.number ?? 0)}, which rests`
      : `car ${f.number(of.number ?? 0)}, which is in ${heat}`,
  round: (_, division) => `the results of ${division}`,
  told: () => 'the time that was told, or until which it is held',
  leg: () => 'the leg before',
  pause: () => 'the end of the pause',
  order: () => 'the heats before it',
  task: (of) => `the end of: ${taskName(of.task)}`,
  adults: () => 'the adults at the benches, who need longer or shorter for each change',
};

/** taskName is a task of the day by its kind. */
const taskName = (kind: string | undefined) => ruleCodes.task[(kind ?? 'set-up') as Schema['PlanTask']['kind']];

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
    task: (of: HoldsUp) => `Most of the rest goes by in waiting for the end of: ${taskName(of.task)}.`,
    inspection: () => 'Most of the rest goes by in waiting for cars that are not through the inspection.',
  } satisfies Record<HoldsUp['code'], (of: HoldsUp, division: string) => string>,
  pace: (of: Schema['DayPace']) =>
    `Reckoned with ${f.countdown(of.call_s)} from call to start, ${f.countdown(of.post_s)} from the end of a race to its result, ${f.countdown(of.changeover_s)} until the next call: ${of.from_heats > 0 ? `what is usual and what ${f.plural(of.from_heats, { one: 'one heat', other: '# heats' })} of today showed` : 'what is usual, for nothing has raced yet'}.`,

  adults: (n: number, crowd: number) =>
    `${f.plural(n, { one: '1 adult runs', other: '# adults run' })} the benches${crowd > 1 ? `: calls and changes take ${f.amount(Math.round(crowd * 10) / 10)} times as long as usual` : ''}.`,
  adultsNone: 'How many adults run the benches is not said: write it under “What if …”.',
  tasks: 'Beside the races',
  taskEach: (n: number) => `${minutes(n)} for each child, while others race`,

  told: (time: string, finish: string) => `Told at ${time}: over at ${finish}.`,
  toldNever: 'No times were told yet.',
  drift: (n: number) =>
    Math.abs(n) < 5
      ? 'The day goes as told, to within five minutes.'
      : n > 0
        ? `The day is ${minutes(n)} behind what was told.`
        : `The day is ${minutes(-n)} ahead of what was told.`,
  begun: {
    title: 'What was told, and when it began',
    began: 'Began',
    later: 'Difference',
    by: (n: number) => (n === 0 ? 'as told' : n > 0 ? `${minutes(n)} later` : `${minutes(-n)} earlier`),
  },
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

  reasons,
  waitsFor: (reason: string) => `waits for ${reason}`,
  waitsNoMore: (reason: string) => `no longer waits for ${reason}`,

  look: {
    title: 'What if …',
    says: 'Say what the day would be like otherwise, and see what would move. Looking changes nothing.',
    benches: 'Benches that would be out of service',
    bench: (n: number) => `Bench ${f.number(n)}`,
    outNow: (n: number) => `Bench ${f.number(n)} (out now)`,
    pause: 'Pause from now on, in minutes',
    adults: 'Adults at the benches',
    adultsNow: (n: number) => `${f.number(n)} now`,
    adultsHere: (n: number) =>
      `${f.plural(n, { one: '1 adult is', other: '# adults are' })} here now: plan with so many`,
    adultsDone: (n: number) => `The day is planned with ${f.plural(n, { one: '1 adult', other: '# adults' })} now.`,
    see: 'See what moves',
    result: 'What would move',
    over: (time: string) => `The last race would likely be over at ${time}.`,
    noBench: 'No bench would be in service.',
    later: (n: number) => `That is ${minutes(n)} later than as the day stands.`,
    earlier: (n: number) => `That is ${minutes(n)} earlier than as the day stands.`,
    same: 'That is as the day stands, to the minute.',
    moves: (n: number) =>
      f.plural(n, { one: 'One heat moves by five minutes or more:', other: '# heats move by five minutes or more:' }),
    movesNone: 'No heat moves by five minutes or more.',
    more: (n: number) => f.plural(n, { one: 'And one more heat.', other: 'And # more heats.' }),
    heat: 'Heat',
    from: 'Now about',
    to: 'Then about',
    by: 'By',
    minutes,
    laterBy: (n: number) => `${minutes(n)} later`,
    earlierBy: (n: number) => `${minutes(n)} earlier`,
    why: 'Why',
    leave: 'Leave it',
    wide: (heat: string, cars: number, benches: number) =>
      `${heat} has ${f.number(cars)} cars, and ${f.plural(benches, { one: '1 bench', other: '# benches' })} would be in service: it would race in turns.`,
    on: (heat: string, bench: number) =>
      `${heat} is on bench ${f.number(bench)}: its car there would need another bench.`,
    late: (n: number) => `The last race would be over ${minutes(n)} too late.`,
    serviceAt: 'A bench is taken out of service, and the meet paused, on the page “Now”.',
  },
  done: (heat: string) => `${heat}: done.`,
  board: {
    views: 'Ways to look at the heats',
    view: { list: 'List', hour: 'Next hour', day: 'Rest of the day' },
    name: { hour: 'Board of the next hour', day: 'Board of the rest of the day' },
    hint: 'Arrow keys go from heat to heat. With Shift the left and right ones call the heat sooner or later; so does dragging it. Enter goes to its keys.',
    look: {
      racing: 'racing',
      called: 'called',
      told: 'drawn, time told',
      likely: 'drawn',
      ahead: 'not drawn yet',
    },
    option: (heat: string, time: string, benches: number[], look: string) =>
      `${heat}, about ${time}, ${benches.length === 1 ? 'bench' : 'benches'} ${f.list(benches.map((n) => f.number(n)))}, ${look}`,
    nothing: 'No heat',
    now: 'now',
    keys: 'keys back',
    lastRace: 'last race by',
    out: 'out of service',
    dropBefore: (heat: string, time: string) => `Before ${heat}, about ${time}.`,
    dropLast: 'Behind all others.',
    but: (why: string) => `But: ${why}.`,
    carIn: (n: number, heat: string) => `car ${f.number(n)} is in ${heat} at that time`,
    legIn: (heat: string) => `${heat} has to be raced first`,
    onBench: (heat: string, bench: number) =>
      `${heat} is on bench ${f.number(bench)}, which is out of service: send the car to another bench, or leave it over.`,
    wide: (heat: string, cars: number, benches: number) =>
      `${heat} has ${f.number(cars)} cars, and ${f.plural(benches, { one: '1 bench is', other: '# benches are' })} in service.`,
    overtaken: (heat: string, place: number, why: string) =>
      `${heat} stands ${f.ordinal(place, { one: '#st', two: '#nd', few: '#rd', other: '#th' })} and is likely overtaken: it ${why}.`,
    moreConflicts: (n: number) => f.plural(n, { one: 'And one more.', other: 'And # more.' }),
    table: 'The board as a table',
    time: 'About',
    state: 'State',
    benches: 'Benches',
    cars: 'Cars',
    otherBenches: 'Call to other benches',
    callOnTitle: (heat: string) => `Call ${heat} to chosen benches`,
    callOnSays: 'The heat is called now, each car to the bench that is chosen here.',
    callOnFew: (cars: number, benches: number) =>
      `The heat has ${f.number(cars)} cars, and ${f.plural(benches, { one: '1 bench is', other: '# benches are' })} free at this moment.`,
    callOn: 'Call',
    noneFree: 'No bench is free',
  },
  cuts: {
    title: 'If it gets late',
    says: 'What can be left out, what that saves, and what it takes from whom. Decide before the day what goes first, and print it with the rules.',
    see: 'See what can be left out',
    printed: (n: number) => `Number ${f.number(n)} of the list that was printed with the rules.`,
    unprinted: 'Not on the list that was printed.',
    list: 'On the printed list',
    placeOf: (n: number) => f.number(n),
    not: 'no',
    before: 'Chosen before the day',
    beforeSays:
      'Choose what may be left out, what goes first first. The list is printed with the rules, and stays once the first heat is called. On the day it is offered first.',
    beforeNone: 'Nothing is chosen yet.',
    put: 'Put on the list',
    putOf: (name: string) => `Put on the list: ${name}`,
    up: 'Sooner',
    down: 'Later',
    off: 'Off the list',
    deedOf: (deed: string, name: string) => `${deed}: ${name}`,
    save: 'Save the list',
    listSaved: 'The list is saved. It stands on the sheet with the rules.',
    gone: 'saves nothing any more as the day is planned now; it goes from the list when that is saved',
    none: 'Nothing can be left out that saves a minute.',
    lateBy: (n: number) => `As it stands the last race is over ${minutes(n)} too late.`,
    inTime: (n: number) => `As it stands the last race is over in time, with ${minutes(n)} to spare.`,
    finish: (time: string) => `As it stands the last race is likely over at ${time}.`,
    choices: 'What can be done',
    more: 'All that can be left out',
    leave: 'Leave everything as it is',
    leaveSays: 'Nobody loses a race. The hall closes when it closes: say at the microphone when prizes are given.',
    order: 'Another order, nothing left out',
    orderSays: 'Nobody loses a race: the heats that wait are only called in another order. Look for one above.',
    saves: (n: number, time: string) => `${minutes(n)} earlier, over at ${time}`,
    takes: (entries: number, runs: number) =>
      `It takes races from ${f.plural(entries, { one: '1 child', other: '# children' })}; each child still races at least ${f.plural(runs, { one: 'once', other: '# times' })}.`,
    takesNone: (entries: number, runs: number) =>
      `${f.plural(entries, { one: '1 child races', other: '# children race' })} less at the end; what everybody races for sure stays: ${f.plural(runs, { one: 'once', other: '# times' })}.`,
    once: 'Advised against: somebody goes home after one race.',
    fair: (time: string) => `Fair until about ${time}: after that it is drawn.`,
    notNow: 'It can be done once the round under way is official: end the division then.',
    short: (n: number, name: string) => `This ends the day ${minutes(n)} earlier: ${name}`,
    microphone: 'For the microphone',
    doIt: 'Do it',
    doOf: (name: string) => `Do it: ${name}`,
    doEnd:
      'This is a ruling: the division ends with what was raced, and its standings as they are become the final ones.',
    doPlan: 'The programme of the division is changed. It can be changed again until its first draw.',
    done: (name: string) => `Done: ${name}.`,
    cut: 'What is left out',
    whom: 'Children hit',
    least: 'Races each at least',
    leastNow: (after: number, before: number) =>
      after === before ? f.number(after) : `${f.number(after)} in place of ${f.number(before)}`,
    until: 'Fair until about',
    likely: 'Over at about',
    saved: 'Saves',
    name: {
      'fewer-rounds': (division: string, stage: string) => `${division}: one round less (${stage})`,
      'no-third-place': (division: string) => `${division}: no race for third place`,
      'no-plate': (division: string) => `${division}: no plate for those who are beaten at once`,
      'one-leg': (division: string, stage: string) => `${division}: one race for each pair in place of two (${stage})`,
      'no-b-final': (division: string) => `${division}: no B-final`,
      'no-last-stage': (division: string, stage: string) => `${division}: without the last stage (${stage})`,
      'end-after-stage': (division: string, stage: string) => `${division}: end after ${stage}`,
      'end-after-round': (division: string) => `${division}: end after the round that is drawn`,
    } satisfies Record<CutCode, (division: string, stage: string) => string>,
    words: {
      'fewer-rounds': (division: string) => `${division} race one round less than was planned.`,
      'no-third-place': (division: string) => `In ${division} both beaten semi-finalists are third.`,
      'no-plate': (division: string) => `In ${division} there is no plate today.`,
      'one-leg': (division: string) => `In ${division} each pair races once.`,
      'no-b-final': (division: string) => `In ${division} there is no B-final today.`,
      'no-last-stage': (division: string) => `In ${division} the places go by the stage before the last.`,
      'end-after-stage': (division: string) => `In ${division} the places go by what is being raced now.`,
      'end-after-round': (division: string) => `In ${division} the round that is drawn is the last one.`,
    } satisfies Record<CutCode, (division: string) => string>,
    wordsEnd: (time: string) => `What was raced counts. We are likely done with racing at ${time}.`,
  },
  rehearse: {
    title: 'Rehearse my day',
    says: 'Plays the day as planned in a copy, with what usually goes wrong: one inspector for all cars, a start 25 minutes late, one bench dead all day, and one adult fewer. Nothing is changed.',
    play: 'Rehearse my day',
    weak: {
      inspection: (until: string) => `The weak point: inspection until ${until}.`,
      'late-start': () => 'The weak point: the late start.',
      'bench-dead': () => 'The weak point: a dead bench.',
      'adult-missing': () => 'The weak point: an adult who is missing.',
    } satisfies Record<Hitch, (until: string) => string>,
    none: 'No weak point: none of it costs a minute.',
    help: {
      inspection: 'A second inspector, or inspection on the evening before, helps most.',
      'late-start': 'An earlier opening or less before the first race helps most.',
      'bench-dead': 'A spare bench, or one race less for each, helps most.',
      'adult-missing': 'One more adult who is asked now helps most.',
    } satisfies Record<Hitch, string>,
    over: (planned: string, then: string) =>
      `As planned the last race is over at ${planned}; with all of it about ${then}.`,
    p90: (time: string) => `One such day in ten ends after ${time}.`,
    late: (n: number, by: string) => `That is ${minutes(n)} after ${by}, by when the last race has to be over.`,
    fits: (n: number, by: string) => `That is in time: ${minutes(n)} before ${by}.`,
    table: 'What each costs',
    what: 'What goes wrong',
    alone: 'It alone costs',
    spares: 'Without it that day ends earlier by',
    name: {
      inspection: (of: Schema['RehearsedDay']) =>
        `One inspector for ${f.plural(of.cars ?? 0, { one: '1 car', other: '# cars' })}`,
      'late-start': () => 'A start 25 minutes late',
      'bench-dead': () => 'One bench dead all day',
      'adult-missing': (of: Schema['RehearsedDay']) =>
        `One adult fewer: ${f.plural(of.adults ?? 1, { one: '1 is', other: '# are' })} left`,
    } satisfies Record<Hitch, (of: Schema['RehearsedDay']) => string>,
  },
  better: {
    title: 'An order in which the day ends earlier',
    says: 'Looks through other orders of the heats that wait. What was told is never called before its time, nor much later.',
    find: 'Look for one',
    found: (n: number) => `There is one: the last race would be over ${minutes(n)} earlier.`,
    under: 'That is if the day is as it was supposed above. The order can be taken up all the same.',
    none: 'None was found that saves a minute: the order stands as it is.',
    apply: 'Take up this order',
    applied: 'The heats are called in the new order now.',
    left: 'The order stays as it is.',
  },

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
