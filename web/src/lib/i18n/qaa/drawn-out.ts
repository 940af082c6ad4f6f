/** Letters that get an accent, so that a text is seen to have come through here while it can still be read. */
const acute = /[aeiouyAEIOUY]/g;

/** One text in brackets, accented and longer by a third at least, as most languages are beside English. */
export function longer(text: string): string {
  if (!/\p{L}/u.test(text)) return text;
  const more = Math.ceil(text.length / 3);
  // In words, so that a line breaks as it would.
  const tail = 'lorem ipsum dolor sit amet '
    .repeat(Math.ceil(more / 27))
    .slice(0, more)
    .trim();
  return `[${text} ${tail}]`.replace(acute, (letter) => `${letter}\u0301`.normalize('NFC'));
}

/** drawnOut gives the same texts made longer: those that functions make too, and those in lists. */
export function drawnOut<Texts>(texts: Texts): Texts {
  return out(texts) as Texts;
}

function out(of: unknown): unknown {
  if (typeof of === 'string') return longer(of);
  if (typeof of === 'function') return (...args: unknown[]) => out((of as (...args: unknown[]) => unknown)(...args));
  if (Array.isArray(of)) return of.map(out);
  if (typeof of === 'object' && of !== null && plain(of))
    return Object.fromEntries(Object.entries(of).map(([name, value]) => [name, out(value)]));
  return of;
}

// A module is none of a class of ours either.
const plain = (of: object) => [Object.prototype, null].includes(Object.getPrototypeOf(of) as object | null);
