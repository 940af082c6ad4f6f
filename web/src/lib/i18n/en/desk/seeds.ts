import { format as f } from '../format';

/** The seed order of a division. */
export const seeds = {
  title: 'Seed order',
  of: (division: string) => `Seed order: ${division}`,
  link: 'Seed order',
  toProgramme: 'To the programme',
  none: 'Nobody is entered yet.',

  dealt: (stage: string) => `${stage}. Its heats are dealt by lot, so there is nothing to seed.`,
  drawn: (stage: string) =>
    `${stage} is drawn. Who is seeded where changes only by drawing again: that is a ruling, needs a reason and stays in the list. It is possible until a heat of the round was called.`,
  arrangeAgain: 'Draw again in another order',
  drawAgain: 'Draw again in this order',
  drawAgainSays:
    'The heats of the round are thrown away and drawn anew in the order that you arranged. It is a ruling and stays in the list. Not possible once a heat of it was called.',

  nothingGiven: 'No order is given yet, and without one this stage cannot be drawn. Arrange it and give it.',
  stands: (method: string, tree: boolean) =>
    tree ? `${method}. Seeds 1 and 2 can meet only in the last round.` : `${method}.`,
  byLotSays: 'The lot decides, and it is drawn once entries are closed.',
  missing: (n: number) =>
    f.plural(n, {
      one: '# entry is not checked in; it falls out at the draw unless it comes.',
      other: '# entries are not checked in; they fall out at the draw unless they come.',
    }),
  late: (who: string, n: number) =>
    f.plural(n, {
      one: `${who} came after this order was given and stands behind.`,
      other: `${who} came after this order was given and stand behind.`,
    }),
  gone: (who: string, n: number) =>
    f.plural(n, { one: `${who} left and fell out of the order.`, other: `${who} left and fell out of the order.` }),

  sort: { lot: 'By lot', hand: 'By hand', rating: 'By rating', rank: 'By the result of the stage before' },
  undo: 'Undo',
  send: 'Give this order',
  sent: 'The order is given. It stands until the draw.',

  help: 'Drag a handle, or press the arrow keys, Home or End on it. Or type the place.',
  handle: (who: string, at: number, of: number) => `Move ${who}: seed ${f.number(at)} of ${f.number(of)}`,
  placeOf: (who: string) => `Place of ${who}`,
  moved: (who: string, at: number, of: number) => `Car ${who} is now seed ${f.number(at)} of ${f.number(of)}.`,
  atEnd: (who: string, at: number, of: number) => `Car ${who} stays seed ${f.number(at)} of ${f.number(of)}.`,
  rank: (n: number) => `${f.ordinal(n, { one: '#st', two: '#nd', few: '#rd', other: '#th' })} before`,
  rating: (n: number) => `rating ${f.number(Math.round(n))}`,
  lateOne: 'late',
  notThere: 'not checked in',
  lot: 'by lot',

  ratings: 'Ratings',
  ratingsSays:
    'From the published results of all meets, for seeding only; no place depends on them. Races of two count, 1,500 is somebody unknown. ± is how far the true figure may lie to either side, in 95 of 100 cases.',
  ratingsNone: 'No results of races of two are published yet.',
  carClass: 'Car class',
  ratingOf: 'Rating',
  games: 'Races',
  meets: 'Meets',
  noName: 'Somebody erased',

  leave: 'This order is not given yet. Leave the page without it?',
  preview: 'First round',
  previewSays: 'Who would meet whom if this were drawn now. Nothing is kept.',
  group: (letter: string) => `Group ${letter}:`,
};
