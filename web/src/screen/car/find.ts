import type { Schema } from '$lib/api';

type Entry = Pick<Schema['Entry'], 'start_number' | 'display_name'>;

/** plainly is a name or what somebody types without what nobody types: capitals, accents, signs and double blanks. */
const plainly = (text: string) =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

/** numberIn is the start number that was typed, written "7", "07" or "#7"; undefined for any other text. */
const numberIn = (words: string) => (/^\p{Nd}+$/u.test(words) ? words.replace(/^0+(?=.)/, '') : undefined);

/**
 * found are the cars that a text may mean: those whose start number begins with it, or whose nickname has words that
 * begin with each of its words. An empty text means all. What a screen does not show is not looked at.
 */
export function found<Car extends Entry>(cars: readonly Car[], text: string): Car[] {
  const words = plainly(text);
  if (words === '') return [...cars];
  const number = numberIn(words);
  return cars.filter((car) => {
    if (number !== undefined && String(car.start_number).startsWith(number)) return true;
    const name = ` ${plainly(car.display_name ?? '')}`;
    return words.split(' ').every((word) => name.includes(` ${word}`));
  });
}

/** meant is the one car that a text can only mean: the one with just that number, else the only one found. */
export function meant<Car extends Entry>(cars: readonly Car[], text: string): Car | undefined {
  const words = plainly(text);
  if (words === '') return undefined;
  const those = found(cars, text);
  return (
    those.find((car) => String(car.start_number) === numberIn(words)) ?? (those.length === 1 ? those[0] : undefined)
  );
}
