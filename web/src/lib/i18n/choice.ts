import { kept as keptHere } from '../device';
import { languages, type Language } from './languages';

/** Where the choice is kept on this device: for the pages, and as a cookie for the server, which begins with it. */
const place = 'benchmeet-language';

const isLanguage = (tag: unknown): tag is Language => Object.hasOwn(languages, tag as string);

/** wanted is the language to show: as the address says, else as chosen on this device, else as the browser wants. */
export function wanted(address: string | null, browser: readonly string[]): Language {
  if (isLanguage(address)) keep(address);
  const tags = [address, kept(), ...browser.map((tag) => tag.split('-')[0]!.toLowerCase())];
  return tags.find(isLanguage) ?? 'en';
}

/** keep remembers a language on this device. */
export function keep(language: Language): void {
  try {
    localStorage.setItem(place, language);
    document.cookie = `${place}=${language};path=/;max-age=31536000;samesite=lax`;
  } catch {
    // A browser that keeps nothing: the address says it until it is left.
  }
}

export const kept = (): string | null => keptHere(place);
