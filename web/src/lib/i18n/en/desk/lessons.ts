import { format as f } from '../format';

const runs = (n: number) => f.plural(n, { one: '1 run', other: '# runs' });
const cars = (n: number) => f.plural(n, { one: '1 car', other: '# cars' });

/** Three lessons that are ready, for the leader. */
export const lessons = {
  title: 'Three lessons of 45 minutes',
  over: 'Practice',
  back: 'Back to practice',
  print: 'Print, a page each',
  lead: 'Each begins with a question and ends with talk about the dots. They go in this order: whoever has not seen how runs scatter cannot say that something is quicker.',
  children: 'Children',
  benches: 'Benches',
  seconds: 'Seconds a run',
  nth: (n: number, title: string) => `Lesson ${f.number(n)}: ${title}`,
  fits: (children: string, benches: string, seconds: string) =>
    `Children: ${children}. Benches: ${benches}. Runs of ${seconds} s, and 30 s to change cars.`,
  /** By how many children share a car. */
  share: {
    1: (n: number, each: number) => `Each child has a car: ${cars(n)}, up to ${runs(each)} each.`,
    2: (n: number, each: number) =>
      `In pairs, one drives and one writes, and they swap after each turn: ${cars(n)}, up to ${runs(each)} each.`,
    3: (n: number, each: number) =>
      `In threes: one drives, one writes, one looks after the car; they swap after each turn: ${cars(n)}, up to ${runs(each)} each.`,
    4: (n: number, each: number) =>
      `In fours, two at the bench and two at the table; they swap after each turn: ${cars(n)}, up to ${runs(each)} each.`,
  } as Record<number, (n: number, each: number) => string>,
  tooMany: 'Too many for half an hour, even with four to a car: take shorter runs, one more bench, or two groups.',
  need: 'You need:',
  minutes: (n: number) => `${f.number(n)} min`,
  steps: { ask: 'Ask', guess: 'Guess', bench: 'At the bench', talk: 'Talk about the dots' },
  expect: 'What to expect',
  own: (degrees: string) => `The figure is your club’s own, from like runs (${degrees} degrees of freedom).`,
  usual: 'The figure is what is usual; once your club has some like runs it is your own.',
  rough: (percent: string) =>
    `Like runs differ by ${percent} %: so much that half an hour cannot show a change of 1 %. Look for what differs first: a loose wheel, a pack that gets tired, a car that is held otherwise.`,
  care: 'Take care',
  cares: [
    'Fingers, hair, sleeves and cords stay away from rollers and wheels. Nothing hangs from a neck.',
    'This program cannot stop a roller or a motor: whoever runs the bench knows how to, and says “hands off” before.',
    'With children under eight an adult stands at each bench that runs.',
    'Motors and cells get hot: let them rest after some runs. A pack that is hot, swollen or leaks is put aside by an adult.',
    'Only packs that are made for it are charged, by an adult and as their maker says. Cells to be used once are never charged.',
    'The rules of your house and of whoever is responsible there come before this page.',
  ],
  lessons: {
    sure: {
      title: 'how sure is a number?',
      need: 'a car that runs well for each group, nothing to change, paper and pencil.',
      ask: ['“Your car went 120 m. It runs again, and nobody changes anything. How far does it go?”'],
      guess: ['Each child writes how far the first run will go, and after four runs how far the fifth will.'],
      bench: [
        'Four runs of each car, as dots on a line. Nothing is changed, nobody helps, the car is let go in the same way.',
        'Then the fifth, against the guess.',
      ],
      talk: [
        '“Which run is the right one?” None: all five are the car.',
        '“If a friend’s car goes one metre farther than yours, is it quicker?” Look at how far your own dots lie apart.',
      ],
      expect: (inside: string, of: string, percent: string) =>
        `Like runs often differ by about ${percent} %. The fifth run lies between the least and the most of the first four with about ${inside} of ${of} cars: three of five, however much a car scatters.`,
    },
    pack: {
      title: 'fresh pack or tired pack?',
      need: 'for each car a pack that has run for a while and a fresh one, both with their numbers on them.',
      ask: ['“Does a car feel when its pack gets tired? Would you see it in 15 seconds?”'],
      guess: ['Each child writes how many metres more the fresh pack makes.'],
      bench: [
        'Tired, fresh, fresh, tired: a run with each. Each time press “Fresh pack” and the pack’s number.',
        'Write each as a dot, tired below and fresh above.',
      ],
      talk: [
        '“Do the two rows lie apart?” If they do, nobody has to reckon.',
        '“Why tired first and last?” So that whatever changes by itself, such as a warm motor, is in both.',
        'Look at the curve of a run: does it fall towards the end?',
      ],
      expect: (percent: string, _runs: string, _none: string) =>
        `The fresh pack mostly goes several metres in a hundred farther (common practice), while like runs differ by about ${percent} %: the rows of dots lie apart for nearly all cars. A pack that rested recovers a little.`,
    },
    gear: {
      title: 'guess a gear',
      need: 'two gears for each car, or wheels of two sizes for 7 to 9 years; or two cars that are ready, where changing takes too long.',
      ask: ['“The motor turns four times while the wheels turn once. What if it turned three times?”'],
      guess: ['Each child writes which gear goes farther, and by how much.'],
      bench: [
        'Two runs with the first gear, two with the second; who has time goes on with second, second, first, first.',
        'Change at the table while others run, and press “Changed something”: one thing alone.',
      ],
      talk: [
        '“Farther, the same, or can’t we tell yet?” All three are good answers.',
        '“A lower gear starts quicker and a higher one ends quicker: which was yours?” Look at the curves.',
      ],
      expect: (percent: string, needed: string, _none: string) =>
        `Like runs differ by about ${percent} %: to see a change of 1 % four times of five takes about ${needed} runs with each gear. One step of teeth mostly makes more than that. Fitting again scatters too, so “as fitted” is the honest word.`,
    },
  },

  /** Sheets after an afternoon. */
  home: {
    title: 'After the afternoon',
    print: 'Print all',
    lead: 'A page for you, then half a page for each family, two on a sheet. A family reads the number of its car alone: no name, no place, and nothing of other cars. Write the name by hand if the family wants it.',
    leader: (day: string, time: string) => `For the leader: ${day}, from ${time}`,
    bench: (there: string, driven: string, lost: string) =>
      `The benches were there for ${there} minutes; cars drove for ${driven}, and ${lost} were lost between runs, beyond a minute each.`,
    fewest: (cars: string) => `First in the queue next time: car ${cars}.`,
    answers: 'What the changes came to',
    car: (number: number) => `Car ${number}`,
    packs: (packs: string) => `Packs that were used: ${packs}. An adult looks at them before the next time.`,
    next: 'Worn or missing for next time:',
    afternoon: (day: string) => `A practice afternoon on ${day}`,
    name: 'Name, if you like:',
    drove: (n: number) => `Your car made ${runs(n)}.`,
    between: (least: string, most: string, seconds: string) =>
      `In ${seconds} s it went between ${least} and ${most} m.`,
    change: (before: string, after: string) => `${before} → ${after}`,
    tried: (what: string) => `Tried: ${what}.`,
    same: 'The same, as far as these runs can show.',
    notYet: 'These runs cannot tell yet.',
    nothingTried: 'Nothing was changed at it: its runs show by how much a car differs from itself.',
    means:
      '“Between” is where the true change most likely lies, as the car’s own runs scatter. On rollers there is no wind: on a track it may be otherwise.',
    guessed: (n: number, off: string) =>
      `${f.plural(n, { one: '1 guess', other: '# guesses' })} before a run, off by ${off} m on the whole.`,
    ask: 'Ask your child:',
    questions: [
      'How do you know that two runs are really different?',
      'Why does the same car not go as far each time?',
      'What would you change first, and what would you guess?',
    ],
    questionsChanged: [
      'What did you change, and what did you think would happen?',
      'How would you make sure that it was the change that did it?',
      'What would you try next, and how many runs would you make?',
    ],
  },
};
