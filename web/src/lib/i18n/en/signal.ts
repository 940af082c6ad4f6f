import { format as f } from './format';

/** Faults of a signal, as the server names them. */
type Fault =
  | 'silent'
  | 'too-short'
  | 'lamp'
  | 'echo'
  | 'missed'
  | 'stray'
  | 'bursts'
  | 'marks'
  | 'unsteady'
  | 'breaks'
  | 'lost'
  | 'restarted';

/** The check of a bench's signal: is it good enough to race on. */
export const signal = {
  open: 'Check the signal',
  title: 'Check the signal',
  says: (seconds: string) =>
    `For an adult, with a car that nobody waits for. Put it on and let it run at full speed. Then press: the bench looks for ${seconds} and says whether it counts right.`,
  care: 'The rollers spin fast and a car can be thrown off. Guard on, fingers, hair, sleeves and cords away. Let them stop before you touch anything.',
  go: (seconds: string) => `Look for ${seconds}`,
  back: 'Back',
  waits: 'Keep the car at full speed',
  waitsSays: 'The look begins by itself.',
  looking: 'Looking',
  left: (seconds: number) => f.plural(seconds, { one: '# second left', other: '# seconds left' }),
  stop: 'Stop the look',
  noWord: 'No word from the counter box.',
  noWordFirst: 'Look at its plug and its lamp, and whether the computer beside it is on.',
  reads: 'Reading what was seen.',
  good: 'Good',
  notGood: 'Not good',
  upTo: (rpm: number) => `It counts right up to ${f.number(rpm)} turns a minute.`,
  first: 'Do this first:',
  seen: (time: string, marks: number, rpm: number) =>
    `Seen at ${time}: ${f.plural(marks, { one: '# mark', other: '# marks' })} a turn, ${f.number(rpm)} turns a minute.`,
  angles: (degrees: number[]) => `The marks stand at ${f.list(degrees.map((one) => `${f.number(one)}°`))}.`,
  plot: (seconds: number, looks: string) => `Plot: time from mark to mark, over ${f.number(seconds)} seconds. ${looks}`,
  plotSays: 'Each dot is a time from mark to mark. A good signal is one thin line.',
  again: 'Look again',
  close: 'Close',
  /** What is wrong, the one thing to do first, and how the plot looks. */
  faults: {
    silent: [
      'No mark was seen.',
      'Stop the roller and turn it slowly by hand: does the lamp of the counter box blink at the mark? If not, move the sensor nearer.',
      '',
    ],
    'too-short': [
      'Too little was seen to say anything.',
      'Put a car on, let it run at full speed, and look again.',
      'Few dots.',
    ],
    lamp: [
      'The sensor sees a lamp, not the mark.',
      'Shade the sensor. Then stop the roller and turn it by hand to see whether the mark is seen.',
      'A line that is straight from the first moment on.',
    ],
    echo: [
      'Marks are seen twice.',
      'Make the edges of the mark clean and dark, or the mark wider, and move the sensor nearer.',
      'A second line near the bottom.',
    ],
    missed: [
      'Marks go by unseen.',
      'Clean the mark, make it wider, and move the sensor nearer.',
      'Dots at twice the height.',
    ],
    stray: [
      'Something else than the mark is seen.',
      'Shade the sensor from lamps and from the sun.',
      'Dots strewn below the line.',
    ],
    bursts: [
      'Stamps came in a row, faster than any roller turns.',
      'Keep remote controls away, and shade the sensor.',
      'A heap at the bottom in one place.',
    ],
    marks: [
      'There are not as many marks on the roller as the bench says.',
      'Stop the roller and count the marks of one turn by hand. The desk has their number under Benches.',
      'Several lines.',
    ],
    unsteady: [
      'The times are not even.',
      'Fix sensor and roller so that nothing shakes, and make the edge of the mark straight.',
      'A thick line.',
    ],
    breaks: [
      'The signal stopped while the roller turned.',
      'Stop the roller. Then check cable, plug and supply: does one of them sit loose?',
      'The line ends, or has a hole.',
    ],
    lost: [
      'The mark is seen, but not all of it comes here.',
      'Check the cable and the plug of the counter box.',
      'The line has holes.',
    ],
    restarted: [
      'The counter box started again while it looked.',
      'Check its supply and its plug; earth the axle of the roller.',
      'The line has a hole.',
    ],
  } as Record<Fault, [what: string, first: string, looks: string]>,
  looksGood: 'One thin line.',
};
