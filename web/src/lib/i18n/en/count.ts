const car = (number: number) => `car ${number}`;

/** Texts of the dialog that takes a count by hand. */
export const count = {
  title: (number: number) => `Count for ${car(number)}`,
  what: 'What did you count?',
  laps: 'Laps',
  lapsLong: (lap: string) => `Laps of ${lap} m`,
  metres: 'Metres',
  metresLong: 'Metres',
  lapsHelp: 'To the nearest whole lap.',
  give: 'Give or take, in metres',
  giveHelp: 'How far you may be wrong, to either side.',
  means: (distance: string, half: string) =>
    `That is ${distance} m ± ${half} m. A count is coarser than the sensor, and marked as counted by hand.`,
  lapsMeans: 'Whole laps: the true distance lies within half a lap to either side.',
  need: 'Type what you counted: a number above zero.',
  needWhole: 'Type how many whole laps you counted: 1 or more.',
  needGive: 'Say how far you may be wrong: a number above zero.',
  go: 'Hand in the count',
  whenLost: 'Only when no run comes from the counter box: a run that comes first counts.',
};
