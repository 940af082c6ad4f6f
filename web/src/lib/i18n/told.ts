import type { Format } from './format';

/**
 * Told are the texts of a language for what the server says, by their codes; “{name}” stands for the argument of that
 * name. “name=value” is the word for an argument that is a code itself, “called=part” that for a part of what a thing
 * is called. The English ones are the server's own.
 */
export type Told = Record<string, string>;

/** What an argument is called that is the id of something; the parts are for another language than English. */
interface Called {
  says: string;
  parts?: { code: string; value?: string }[];
}

/** What the server says of something: a code with arguments, and the sentence in English. */
export interface Said {
  code: string;
  says: string;
  /** By name; of a flag in order, the first is “{1}”. */
  args?: Record<string, string> | readonly number[];
  names?: Record<string, Called>;
}

/** Arguments that stand as they are, whatever they look like: somebody typed them, or they name something. */
const asTheyAre = new Set(['id', 'cell', 'name', 'item', 'head', 'pack', 'date', 'topic']);

/**
 * told is the text for what the server says, in the reader's language. A code that a newer server sends and
 * this page does not know is said as the server says it.
 */
export function told(texts: Told, format: Format, { code, says, args = {}, names = {} }: Said): string {
  const text = texts[code];
  if (text === undefined) return says;
  const given = Array.isArray(args) ? Object.fromEntries(args.map((n, i) => [`${i + 1}`, String(n)])) : args;
  const values = given as Record<string, string>;
  const sentence = text.replace(/\{(\w+)\}/g, (place, name: string) => {
    const value = values[name];
    if (value === undefined) return place;
    const called = names[name];
    if (called) return calledSo(texts, called);
    if (asTheyAre.has(name)) return value;
    const inner = values[`${name}_code`];
    if (inner !== undefined) return told(texts, format, { code: inner, says: value, args: within(values, name) });
    return texts[`${name}=${value}`] ?? number(value, format);
  });
  return sentence.charAt(0).toLocaleUpperCase(format.language) + sentence.slice(1);
}

/** within are the arguments of the refusal that is an argument itself. */
const within = (values: Record<string, string>, name: string) =>
  Object.fromEntries(
    Object.entries(values).flatMap(([key, value]) =>
      key.startsWith(`${name}_`) ? [[key.slice(name.length + 1), value]] : [],
    ),
  );

/** calledSo is what a thing is called in the language of the texts, as far as they know its parts. */
function calledSo(texts: Told, { says, parts = [] }: Called): string {
  const words = parts.map(({ code, value = '' }) => texts[`called=${code}`]?.replace('{n}', value));
  if (words.length === 0 || words.includes(undefined)) return says;
  // A part that leads on to the next ends in a blank.
  return words.reduce((all, word) => all + (all === '' || all!.endsWith(' ') ? '' : ', ') + word, '')!;
}

/** number writes a decimal number as the language does, with its unit; everything else stays. */
function number(value: string, format: Format): string {
  const [, whole, part, unit] = /^(-?\d{1,9})\.(\d+)( \S+)?$/.exec(value) ?? [];
  return part === undefined ? value : format.number(Number(`${whole}.${part}`), part.length) + (unit ?? '');
}
