import type { count as English } from '../en/count';

const car = (number: number) => `Auto ${number}`;

/** Texts of the dialog that takes a count by hand. */
export const count: typeof English = {
  title: (number) => `Zählung für ${car(number)}`,
  what: 'Was hast du gezählt?',
  laps: 'Runden',
  lapsLong: (lap) => `Runden von ${lap} m`,
  metres: 'Meter',
  metresLong: 'Meter',
  lapsHelp: 'Auf die nächste ganze Runde.',
  give: 'Mehr oder weniger, in Metern',
  giveHelp: 'Wie weit du danebenliegen kannst, nach beiden Seiten.',
  means: (distance, half) =>
    `Das sind ${distance} m ± ${half} m. Eine Zählung ist gröber als der Sensor und wird als Handzählung gekennzeichnet.`,
  lapsMeans: 'Ganze Runden: Die wahre Strecke liegt bis zu einer halben Runde daneben.',
  need: 'Tippe, was du gezählt hast: eine Zahl über null.',
  needWhole: 'Tippe, wie viele ganze Runden du gezählt hast: 1 oder mehr.',
  needGive: 'Sag, wie weit du danebenliegen kannst: eine Zahl über null.',
  go: 'Zählung abgeben',
  whenLost: 'Nur wenn vom Zählkasten keine Fahrt kommt: Eine Fahrt, die zuerst kommt, zählt.',
};
