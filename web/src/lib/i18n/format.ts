/** The forms of a word by plural category; `other` is needed in every language. */
export type Forms = Partial<Record<Intl.LDMLPluralRule, string>> & { other: string };

const mpsToKmh = 3.6;

/** once makes a thing when it is first asked for. */
function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => (made ??= make());
}

/**
 * Format writes numbers, times and plurals as one language does. It knows no
 * words: those stand in the catalogues.
 */
export class Format {
  // A browser takes tens of milliseconds for each of these, so that they are made when they are first used.
  readonly #plurals = once(() => new Intl.PluralRules(this.language));
  readonly #ordinals = once(() => new Intl.PluralRules(this.language, { type: 'ordinal' }));
  readonly #numbers = new Map<number, Intl.NumberFormat>();
  readonly #minute = once(
    () => new Intl.DateTimeFormat(this.language, { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }),
  );
  readonly #second = once(() => new Intl.DateTimeFormat(this.language, { timeStyle: 'medium', hourCycle: 'h23' }));
  readonly #date = once(() => new Intl.DateTimeFormat(this.language, { dateStyle: 'full', timeZone: 'UTC' }));
  readonly #amounts = once(() => new Intl.NumberFormat(this.language, { maximumFractionDigits: 3 }));
  readonly #list = once(() => new Intl.ListFormat(this.language, { type: 'conjunction' }));

  /** `ownDigits`: the language writes small whole numbers in digits of its own, not in 0 to 9. */
  constructor(
    readonly language: string,
    private readonly ownDigits = false,
  ) {}

  /** number has exactly so many decimals. */
  number(value: number, decimals = 0): string {
    // Start numbers, rounds and counts: the commonest by far, and no phone has to wait for them.
    if (!this.ownDigits && decimals === 0 && Number.isInteger(value) && value >= 0 && value < 1000)
      return String(value);
    let form = this.#numbers.get(decimals);
    if (!form) {
      form = new Intl.NumberFormat(this.language, { minimumFractionDigits: decimals, maximumFractionDigits: decimals });
      this.#numbers.set(decimals, form);
    }
    // A tiny negative number must not read "-0".
    return form.format(Number(value.toFixed(decimals)) || 0);
  }

  /** amount is a number that somebody typed: with the decimals that it has, up to three. */
  amount(value: number): string {
    return this.#amounts().format(value);
  }

  /** plural picks the form for n; "#" in it becomes the number. */
  plural(n: number, forms: Forms): string {
    return (forms[this.#plurals().select(n)] ?? forms.other).replace('#', this.number(n));
  }

  /** ordinal picks the form for the nth; "#" in it becomes the number. */
  ordinal(n: number, forms: Forms): string {
    return (forms[this.#ordinals().select(n)] ?? forms.other).replace('#', this.number(n));
  }

  /** list joins words as the language does: "a, b and c". */
  list(words: string[]): string {
    return this.#list().format(words);
  }

  /** kmh writes a speed in m/s as km/h, to a tenth. */
  kmh(metresPerSecond: number): string {
    return this.number(metresPerSecond * mpsToKmh, 1);
  }

  /** time is hours and minutes on the clock of whoever looks. */
  time(instant: string | Date): string {
    return this.#minute().format(new Date(instant));
  }

  /** timeToSecond is hours, minutes and seconds. */
  timeToSecond(instant: string | Date): string {
    return this.#second().format(new Date(instant));
  }

  /** date writes a calendar date, YYYY-MM-DD, in full. */
  date(day: string): string {
    return this.#date().format(new Date(day + 'T00:00:00Z'));
  }

  /** countdown writes seconds as m:ss; a fraction counts as a whole second, below zero is 0:00. */
  countdown(seconds: number): string {
    const whole = Math.max(0, Math.ceil(seconds));
    return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
  }

  /** measured is a value with its uncertainty; see rounded. */
  measured(value: number, standardUncertainty?: number): Measured {
    const { decimals, half } = rounded(standardUncertainty);
    return {
      value: this.number(value, decimals),
      plusMinus: half === undefined ? undefined : this.number(half, decimals),
    };
  }
}

/** Measured is a value as written, and what stands after its ±. */
export interface Measured {
  value: string;
  plusMinus: string | undefined;
}

/** No reader in a hall needs more than centimetres. */
const mostDecimals = 2;

/**
 * rounded gives the decimals that a value with this standard uncertainty
 * deserves, and half of its interval: twice the uncertainty (k = 2, about 95 of
 * 100 cases; JCGM 100:2008, 6.2 and 7.2.6), rounded up to one digit, or two where
 * the first is 1. Without an uncertainty it is one decimal.
 */
export function rounded(standardUncertainty?: number): { decimals: number; half: number | undefined } {
  if (standardUncertainty === undefined || !(standardUncertainty > 0)) return { decimals: 1, half: undefined };
  const expanded = 2 * standardUncertainty;
  const magnitude = Math.floor(Math.log10(expanded));
  const digits = expanded / 10 ** magnitude < 2 ? 2 : 1;
  const decimals = Math.min(mostDecimals, Math.max(0, digits - 1 - magnitude));
  const step = 10 ** decimals;
  return { decimals, half: Math.ceil(expanded * step - 1e-9) / step };
}
