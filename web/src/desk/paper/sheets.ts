/** The prints of the desk, as they stand on its page of paper. */
export const groups = {
  round: ['kit', 'call-list', 'heat-sheets', 'results'],
  day: ['start-list', 'roll-call', 'certificates'],
  evening: ['evening', 'plates', 'cards', 'pictures', 'rules', 'care'],
} as const;

/** SheetName is a print by its name in addresses. */
export type SheetName = (typeof groups)[keyof typeof groups][number];

const all: readonly string[] = Object.values(groups).flat();
export const isSheet = (name: string): name is SheetName => all.includes(name);

/** addressOf is the page of a sheet; `now` opens the print at once. */
export const addressOf = (meet: string, sheet: SheetName, now = false): string =>
  `/desk/m/${encodeURIComponent(meet)}/paper/${sheet}${now ? '?now' : ''}`;
